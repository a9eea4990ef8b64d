"""What is seen of each product, and the usual test for it."""

from __future__ import annotations

from dataclasses import dataclass

from fizzplate import data


@dataclass(frozen=True, slots=True)
class ProductTest:
    """A test and what it shows.

    Parameters
    ----------
    action
        What is done.
    result
        What is then seen if the product is there.
    caveat
        What to beware of.
    """

    action: str
    result: str
    caveat: str

    def __str__(self) -> str:
        return f"{self.action}: {self.result}"


def standard_test(product: str) -> ProductTest:
    """Return the usual test for a product.

    Examples
    --------
    >>> standard_test("O2").result
    'the splint relights'
    """
    row = data.find("product_tests", product=product)
    return ProductTest(row["test"], row.text, row.caveat)


def observation_of(product: str, role: str = "") -> str:
    """Return what is seen at the electrode while a product is made.

    Parameters
    ----------
    product
        Formula.
    role
        "cathode" for an ion that an anode of its metal gives as a rule, where a cathode makes it.

    Examples
    --------
    >>> observation_of("Cu")
    'an orange-brown deposit on the electrode'
    >>> observation_of("Fe2+", "cathode")
    'the yellow of the solution round the electrode fades'
    """
    return data.find("observations", product=product, role=role).text
