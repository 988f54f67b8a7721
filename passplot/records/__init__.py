"""What travels between the stages: frozen dataclasses, no arithmetic beyond properties."""
