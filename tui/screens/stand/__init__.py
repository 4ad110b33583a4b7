"""The stand: what a player looks at while playing."""
