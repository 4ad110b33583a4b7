"""The commands, one module each; `main` finds them by name and is the way in. The rest is what they share."""
