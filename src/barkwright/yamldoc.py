"""A YAML document whose every value knows its place."""
