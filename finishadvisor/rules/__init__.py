"""The rules engine: conditions on named facts, three-valued. It knows no finish and no concrete."""
