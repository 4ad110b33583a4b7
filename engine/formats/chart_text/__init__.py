"""Chart text as people paste it taken apart: what each line is, bars mended, form and key found."""
