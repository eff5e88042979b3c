// Exists so that the program may include it.
