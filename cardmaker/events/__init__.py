"""A day on which weaving is shown in public: its own pages and the labels of its tapes, with their sentences."""
