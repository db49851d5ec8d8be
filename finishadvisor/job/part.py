"""What all parts of the job document share."""

from pydantic import BaseModel, ConfigDict


class Part(BaseModel):
    """A frozen, closed part of the job document."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, defer_build=True)
