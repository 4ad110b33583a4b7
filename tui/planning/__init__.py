"""Plans made in a process of their own: `plans` for the open set, `pool` for many songs at once, `client` and
`worker` behind them."""
