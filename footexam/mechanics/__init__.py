"""How load falls on tissue: arithmetic of training and of mechanics; pure, no files."""
