"""One refusal of what came in: where, what it was, and what to do."""

from dataclasses import dataclass

from footexam.messages import in_one_line


@dataclass(frozen=True, slots=True)
class InputProblem:
    """One refusal: where, what was typed, and the sentence that says what to do."""

    where: str
    side: str
    typed: str
    sentence: str

    def __str__(self) -> str:
        where = f"{self.where} {self.side}".rstrip()
        parts = [in_one_line(where), in_one_line(self.typed), self.sentence]
        return ": ".join(part for part in parts if part)
