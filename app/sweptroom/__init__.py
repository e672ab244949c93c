"""The room that panel and links take through the travel: shown on the board, held against what stands around, saved."""
