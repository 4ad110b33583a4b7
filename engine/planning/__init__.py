"""A song planned for two hands: states, costs, the cheapest path, pins, twelve keys, alternatives; `planner` is
the way in."""
