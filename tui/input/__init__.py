"""What a player does: `commands` is the table of all that a keystroke or a foot switch does, `keymap` the
keystrokes, `prompts` what is asked and typed, `prompt_words` what a question says."""
