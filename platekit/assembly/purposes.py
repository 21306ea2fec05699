"""What a joint's cut is for, in workshop words: for whoever saws by a drawing and a table."""

from __future__ import annotations

from platekit.assembly.fitting import Opening
from platekit.assembly.joints import Butted, Fingers, Halving, Joint, Passing, Screwed, Tabs, Tongue
from platekit.panel.feature import Placed


def cut_for(opening: Opening) -> Placed:
    """Return a joint's opening as a feature of the panel it is cut from, named for what goes in."""
    cession = opening.cession
    return Placed(
        name=f"{_what(cession.joint, cession.owner)} {cession.owner}",
        kind=f"room for {cession.joint.kind}",
        cuts=(opening.shape,),
        of=cession.owner,
    )


def _what(joint: Joint, owner: str) -> str:
    """Return what of the panel called `owner` goes into the cut."""
    if isinstance(joint, Tabs | Screwed | Tongue) and owner != joint.one:
        return "shoulder of"
    words: dict[type[Joint], str] = {
        Tabs: "tab of",
        Screwed: "tab of",
        Tongue: "tongue of",
        Fingers: "finger of",
        Halving: "crossing",
        Passing: "way for",
        Butted: "room for",
    }
    return words.get(type(joint), joint.kind)
