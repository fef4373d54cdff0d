"""Left and right apart: a drafted half written out twice."""
