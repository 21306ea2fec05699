"""The live page: a recipe shown in a browser, drawn up again whenever it or a value changes.

The server (`serving`) holds one page for one recipe and answers only to this computer (`guard`,
`site`). What the page wishes is a `Wish`; saves are noticed by `watching`. A process of its own
(`worker`, which the server sees as a `mate`) runs the recipe, so that one without end can be
stopped; `runner` sees to it that there is never more than one run, the newest wish first, and
`memory` that what has not moved is not proved again. `desk` holds what is to be seen.

starlette and uvicorn are imported in this room alone.
"""
