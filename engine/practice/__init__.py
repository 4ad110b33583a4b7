"""Hard shifts ranked in time, the practice plan, the tempo ladder, the log."""
