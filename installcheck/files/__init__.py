"""Reading and writing files: nothing but regular files in, whole or not at all out, names fit to print."""
