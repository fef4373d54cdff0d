"""The draft: steps that name what they lean on, worked into points and panels."""
