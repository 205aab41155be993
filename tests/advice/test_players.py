"""Three players, and what each is told to do first: word for word, so that a person can judge."""

from __future__ import annotations

import pytest
from advice.players import PLAYERS

from rigtui.advice.first import do_first
from rigtui.advice.words import does
from rigtui.model import rig_from_data

TOLD = {
    "function band": [
        "Store Shimmer in memory 7, Crunch in memory 2 and Solo in memory 3",
        "  Clears 9 moves and 5 findings",
        "Store Crunch in memory 7 and Shimmer in memory 8 as well",
        "  Clears 3 moves and 2 findings",
        "Can you tap the tempo on your Delay? Then tap each song's",
        "  Clears 5 findings; adds 1 song too slow for the delay's longest time",
        "Leave 10 s after Half Past Moon",
        "  Clears 1 finding; costs 6 s between songs",
        "Can loop 6 of your switcher cut only the send, so that Delay rings on when the loop goes "
        "out? Set it to that",
        "  Clears 3 findings",
    ],
    "theatre pit": [
        "Store Dry in memory 5 and Union in memory 1",
        "  Clears 3 moves and 2 findings",
        "Can you tap the tempo on your Space? Then tap each song's",
        "  Clears 2 findings",
        "Time a swap of guitars, with the other one tuned and on its stand: the file gives no "
        "figure, and at 12 s instead of 30 s much of this is in time",
        "  Clears 2 findings",
        "Leave 38 s after Paper Skiffs, Skiffs Reprise, Guild Hall and Lamp Duet",
        "  Clears 4 findings; costs 114 s between songs",
        "Can loop 5 of your switcher cut only the send, so that Space rings on when the loop goes "
        "out? Set it to that",
        "  Clears 1 finding",
    ],
    "quiet-loud trio": [
        "Play with Hall instead of Fuzz in 1 section",
        "  Clears 1 section that can't be played and 2 findings; adds 1 piece of advice",
        "Can your switcher switch the amp's channel? Then store the channel with each preset",
        "  Clears 6 extra presses, 6 moves and 6 findings",
        "Play the songs of one guitar and tuning together in Set",
        "  Clears 4 findings",
        "Leave 50 s after Maps Of Rain, Nine Thaws, Radio To No One and Slow Barges",
        "  Clears 4 findings; costs 140 s between songs",
        "Can loop 7 of your switcher cut only the send, so that Long delay rings on when the loop "
        "goes out? Set it to that",
        "  Clears 4 findings",
    ],
}


@pytest.mark.parametrize("player", PLAYERS)
def test_what_a_player_is_told(player: str) -> None:
    """Five lines at most, each something to do before the next gig."""
    first = do_first(rig_from_data(PLAYERS[player]()))
    said = [
        line for remedy in first.remedies for line in (remedy.proposal.what, f"  {does(remedy)}")
    ]
    assert said == TOLD[player]
    assert first.untried == ()
