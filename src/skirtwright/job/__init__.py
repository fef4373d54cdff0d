"""The open work: everything a person made, and how it is kept."""
