"""Songs and sets: files read and changed, bars unrolled, keys changed."""
