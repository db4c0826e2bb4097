"""The program's name and version: the one place where they are stated."""

PROGRAM = "Transfer Job Planner"
VERSION = "0.1.0"
