"""Running text and tables over as many pages as they need, for a teacher's sheets and a binder's front."""
