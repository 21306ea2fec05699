"""From nominal parts to what the beam does: compensation, cut order, drawings."""
