"""The program's version: the one place where it is stated."""

VERSION = "0.1.0"
