"""Which keys each hand takes for a chord: one module a method, `methods` asks them."""
