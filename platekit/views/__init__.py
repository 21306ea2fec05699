"""Views: a rig in space as the eye takes it, for pictures, plans and pages."""
