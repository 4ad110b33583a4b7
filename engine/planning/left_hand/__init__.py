"""What the left hand plays in time where no bass player is: a pattern over each chord, planned with its jumps.

`slots` says when it strikes which tone, `tones` where those tones may lie, `ways` how a hand plays them, a few of
the cheapest; `engine.planning.states` crosses the ways with the right hand.
"""
