"""The cohort page: a term as a whole, measure by measure, student by student."""
