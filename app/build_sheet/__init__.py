"""The build sheet: the work in its order, step by step, with numbers and a drawing at each, as pages to print.

What steps there are is told without Qt (`steps`, from one module a group of them: `metal_steps`, `hole_steps`,
`body_steps`, `running_steps`), of what everything draws upon (`facts`). `drawings` says what is drawn at a step, with
the shapes that the window draws too; `pages` lets it all flow over sheets (`blocks`: what stands on them). `index_page`
lists the files of the whole set. All words of the sheet stand here.
"""
