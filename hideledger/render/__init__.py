"""The window: a sheet to terminal, plain text or JSON. Decides nothing."""
