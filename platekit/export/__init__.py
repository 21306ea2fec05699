"""Files: cut drawings and lists, and writing them so that nothing is ever half there."""
