"""How far two hinges that aren't parallel let the panel open, worked out beside the window."""
