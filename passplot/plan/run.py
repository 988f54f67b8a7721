"""What one row met, put together from the cuts it is made of."""

from dataclasses import replace

import numpy as np

from passplot.frozen import dataclass
from passplot.plan.metal import Contact, early_width, width_of


@dataclass(frozen=True, slots=True)
class Run:
    """What a row met along its whole length, put together from the cuts it is made of."""

    contact: Contact
    length: float

    def and_then(self, other: "Run") -> "Run":
        """The run with another straight on from its end."""
        shifted = tuple((a + self.length, b + self.length) for a, b in other.contact.right)
        wrong = tuple((a + self.length, b + self.length) for a, b in other.contact.wrong)
        further = other.contact.beside + np.array([self.length, 0.0])
        contact = replace(
            self.contact,
            right=self.contact.right + shifted,
            wrong=self.contact.wrong + wrong,
            beside=np.concatenate((self.contact.beside, further)),
        )
        return Run(contact, self.length + other.length)

    def width(self, radius: float) -> float:
        """Width to print: rather a little of the run into a corner than too little."""
        contact = self.contact
        held = width_of(contact.beside, contact.both, radius, self.length, radius / 10)
        return held or early_width(contact.beside, contact.both, radius, self.length)
