"""The live page: a recipe shown in a browser, drawn up again whenever it or a value changes.

The server holds one page for one recipe and answers only to this computer (`guard`, `site`). What
the page wishes is a `Wish`; saves are noticed by `watching`; a process of its own runs the recipe
(`worker`, `runner`), so that one without end can be stopped. `desk` holds what is to be seen.

starlette and uvicorn are imported in this room alone.
"""
