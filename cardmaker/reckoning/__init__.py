"""The arithmetic: one module per question, pure and exact."""
