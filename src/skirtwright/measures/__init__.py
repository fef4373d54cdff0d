"""Numbers a tape can read: lengths, workings, measurements and cards."""
