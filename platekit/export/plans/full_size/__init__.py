"""Every part in full size, for saw and drill: whole on a page, or in tiles that overlap."""
