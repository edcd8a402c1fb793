"""The street door: files, lines, places in them, complaints about them, nearest words."""
