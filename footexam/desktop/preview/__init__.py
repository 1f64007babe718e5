"""The preview: a document as its pages, one at a time, with search, text, saving and printing."""
