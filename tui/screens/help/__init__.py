"""All keys of the screen below."""
