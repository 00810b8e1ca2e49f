"""The pages of a binder, with their sentences."""
