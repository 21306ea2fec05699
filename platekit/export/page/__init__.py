"""The build page: one HTML file that shows a whole run, in space and in lists, offline."""
