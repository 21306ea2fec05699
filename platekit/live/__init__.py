"""The live page: a recipe shown in a browser, drawn up again whenever it or a value changes.

The server (`serving`) holds one page for one recipe and answers only to this computer (`guard`,
`site`), at an `address` that is the same when it is started again. What the page wishes is a
`Wish`; saves are noticed by `watching`, of every file the recipe read (`reading`). A process of its
own (`worker`, which the server sees as a `mate`) runs the recipe, so that one without end can be
stopped and one that eats memory is held to its share (`appetite`); `runner` sees to it that there
is never more than one run, the newest wish first, and `memory` that what has not moved is not
proved, laid out or measured again. `telling` decides what is shown first. `desk` holds what is to
be seen; `problem` and `places` say what went wrong and where.

starlette and uvicorn are imported in this room alone.
"""
