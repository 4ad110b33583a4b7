"""Pictures: pure functions of a state and a size that return rows of cells, and `drawn`, the widget that shows
them."""
