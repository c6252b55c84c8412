"""The program's own data files, checked on load."""
