"""From a plan to marks on a page, in millimetres from the top left."""
