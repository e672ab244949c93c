"""Help inside: pages that explain the ideas of the job, with pictures that the program itself draws.

The words stand in `resources/help/*.md`. What they say of an example in figures, `{{four.back}}`, is worked out by
`analyse` when the page is shown (`facts`), in the builder's own units; their pictures, `picture:four-bar`, are small
projects (`scenes`) drawn by the painters of the board, or parts of the window itself (`pictures`). So no figure and no
picture of the help can fall behind the program.
"""
