"""The making-up sheet: facts, order of sewing, words, the draft by hand."""
