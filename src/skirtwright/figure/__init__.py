"""The wearer's lower body from her card, and the skirt on her, by levels (mm)."""
