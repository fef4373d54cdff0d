"""The window: the only home of PySide6."""
