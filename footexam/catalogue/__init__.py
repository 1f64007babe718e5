"""What can be asked, what is usual, and how well each number is known."""
