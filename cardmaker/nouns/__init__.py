"""What everybody talks about: frozen nouns with no behaviour but their own fields."""
