"""Ports and what is sent to them."""
