"""Code tables as package data: one CSV a table, its header TOML in the leading # lines."""
