"""What is kept on the disk: `open_files` for the open set, `store` for reading and saving, `own_settings` and
`practice_log` for the player."""
