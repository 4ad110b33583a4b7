"""Settings files of players: one that is whole, and some with a mistake in typing."""

WHOLE = """\
# mine
reach = ["a ninth", "an octave"]   # measured in May
pedal = "control 64 channel 1"   # the left one
theme = "light"

[keys]
"stand.forward" = "f8"

# the singer
[[singers]]
name = "Ines"       # alto
lowest = "G3"
highest = "D5"
"""

SPOILT = (
    '# my hands\nreach = "a ninht"   # measured in May\ntheme = "light"\n',
    '# the pedal\npedal = "cc 64"\npedal_back = "control 67 channel 1"\n',
    '[[singers]]\nname = "Ines"       # alto\nlowest = "H2"\nhighest = "D5"\n',
    'guide = "loud"\nprogram = 0\nbank = -1\nvolume = "full"\nchannel = 17\nsensing = 1\nregister = ["C2"]\n',
    'somebody = "else\'s"\n\n[keys]\n"stand.forward" = 3\n',
    'theme = "dark"\r\nreach = [1, 2, 3]\r\n',
)
