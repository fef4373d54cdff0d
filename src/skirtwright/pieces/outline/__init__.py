"""The cutting line: allowances, corners, hollows."""
