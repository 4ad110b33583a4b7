"""Settings files of players who have made a mistake in typing."""

SPOILT = (
    '# my hands\nreach = "a ninht"   # measured in May\ntheme = "light"\n',
    '# the pedal\npedal = "cc 64"\npedal_back = "control 67 channel 1"\n',
    '[[singers]]\nname = "Ines"       # alto\nlowest = "H2"\nhighest = "D5"\n',
    'guide = "loud"\nprogram = 0\nbank = -1\nvolume = "full"\nchannel = 17\nsensing = 1\nregister = ["C2"]\n',
    'somebody = "else\'s"\n\n[keys]\n"stand.forward" = 3\n',
    'theme = "dark"\r\nreach = [1, 2, 3]\r\n',
)
