"""The set between songs."""
