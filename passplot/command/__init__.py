"""The command line: one small module a command; the only package that imports click."""
