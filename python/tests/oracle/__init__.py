"""An oracle of its own: statics and clauses in NumPy, nothing of the library."""
