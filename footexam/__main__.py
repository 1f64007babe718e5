"""python -m footexam: the command line."""

from footexam.cli import main

raise SystemExit(main())
