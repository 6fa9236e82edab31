"""Rules about the drawing itself: sides as taped, folds that read two ways."""
