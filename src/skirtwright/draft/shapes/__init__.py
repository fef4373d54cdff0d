"""What kinds are made of: panels, edges, darts, slashes, pleats."""
