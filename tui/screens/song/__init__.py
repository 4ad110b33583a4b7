"""How one song is played: for tonight and for good."""
