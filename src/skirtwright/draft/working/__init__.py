"""One pass down a draft, what it remembers, finds and tells of its way."""
