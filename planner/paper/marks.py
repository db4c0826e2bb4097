"""How files made by the planner say who made them."""

MADE_BY = "Transfer Job Planner"
