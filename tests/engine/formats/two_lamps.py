"""A short song with all that a sheet shows: a cue, repeats with endings, marks, a tune, a note."""

TEXT = """
title = "Two Lamps"
key = "Eb"
meter = "4/4"
tempo = 112
feel = "swing"
count = "two bars"
roadmap = "Intro, Verse x2, Tag"
note = "start softly"

[melody]
lowest = "Bb3"
highest = "Eb5"

[sections.Intro]
cue = "piano alone"
bars = "| Abmaj7 | Bb9sus4 |"

[sections.Verse]
bars = "||: Ebmaj7 | Gm7 / / C7(push) [1. Fm7 Bb7 | Bb7 :|| [2. F#m7b5 B7 | Bb7 ||"

[sections.Tag]
bars = "||: Fm7 Bb7 :|| x3 Eb6(hold) ||"
"""
