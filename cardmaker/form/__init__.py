"""The recording form: one page that is filled in on a screen, or with a pencil, while an old tape is counted."""
