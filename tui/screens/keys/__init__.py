"""The twelve keys compared."""
