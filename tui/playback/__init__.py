"""What sounds and what is heard: `sound` what is sent, `transport` a song in time, `incoming` what comes back
from the clock."""
