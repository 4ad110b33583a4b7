"""The player's own tune (`tune_is = "mine"`): the right hand has it on top, with the chord below.

`wanted` says what of it sounds while each chord is played, `voicings` puts a chord under one of its notes;
`engine.planning.states` fingers what is found.
"""
