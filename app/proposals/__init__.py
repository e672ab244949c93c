"""Finding hinges: the search run on all cores (`dealing`, `worker`, `job`), told (`words`), shown and chosen from."""
