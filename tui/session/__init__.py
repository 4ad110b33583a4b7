"""What is open: `session` holds it, `rehearsal` is the frozen value, `changes` its log, `decisions` and
`navigation` what a player makes of it."""
