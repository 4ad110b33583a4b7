"""What is decided about music: pure functions of frozen values, without a screen, a port, a clock or chance."""
