"""One step: a state in, a state out. A fan that must switch inside it splits it at the very moment."""

from simengine.compiled import kernel
from simengine.engine.advance import clear
from simengine.engine.events import find_event, pass_event, see_readings, set_fan
from simengine.engine.free_speed import advance_matched
from simengine.engine.ledger import BOX_TERMS, EXTREME_FROM, HOUSE_TERMS, Column
from simengine.engine.state import HALFWAY, NOW, TRIAL, Array, Member, Scratch, State

MOST_SPLITS = 24  # a fan that would switch more often within one step waits for the next


@kernel
def step(member: Member, interval: int, length: float, state: State, work: Scratch) -> None:
    """Move every lane on by one step, within one interval; add its flows to work.interval.

    Parameters
    ----------
    member, interval : what is marched, in which weather interval
    length : of the step [s]
    state : buffer `NOW` is the state before, and the state after
    work : scratch arrays

    Source: the step is tried whole; where the fan would switch, it is taken up to that moment, the
    fan switched, and the rest tried again with the new speed: a quick sensor starts and stops a fan
    within one step.
    """
    lanes = work.speed.size
    for lane in range(lanes):
        set_fan(member, interval, state, lane, work)
        work.left[lane] = length
        work.length[lane] = length
    clear(work.whole)
    source, between = NOW, HALFWAY
    splits = 0
    on_trial, ended = True, False
    while not ended:
        advance_matched(member, interval, state, source, TRIAL if on_trial else between, work)
        if on_trial:
            split = False
            if splits < MOST_SPLITS:
                for lane in range(lanes):
                    split = find_event(member, interval, state, source, work, lane) | split
            on_trial, ended = not split, not split
        else:
            _add_part(work)
            for lane in range(lanes):
                pass_event(member, interval, state, work, lane)
            source, between = between, source
            splits += 1
            on_trial = True
    _add_part(work)
    for lane in range(lanes):
        see_readings(member, interval, state, work, lane)
    _keep(state)
    _add_whole(member, work, length)


@kernel
def _keep(state: State) -> None:
    for node in range(state.nodes.shape[1]):
        for s in range(state.nodes.shape[2]):
            for lane in range(state.nodes.shape[3]):
                state.nodes[NOW, node, s, lane] = state.nodes[TRIAL, node, s, lane]
                state.rate[NOW, node, s, lane] = state.rate[TRIAL, node, s, lane]
    for row in range(state.zone.shape[1]):
        for lane in range(state.zone.shape[2]):
            state.zone[NOW, row, lane] = state.zone[TRIAL, row, lane]
            state.zone_rate[NOW, row, lane] = state.zone_rate[TRIAL, row, lane]


@kernel
def _add(total: Array, part: Array) -> None:
    for column in range(total.shape[0]):
        for lane in range(total.shape[1]):
            old, new = total[column, lane], part[column, lane]
            total[column, lane] = max(old, new) if column >= EXTREME_FROM else old + new


@kernel
def _add_part(work: Scratch) -> None:
    _add(work.whole, work.part)


@kernel
def _add_whole(member: Member, work: Scratch, length: float) -> None:
    """Close the books of a step and add them to the interval."""
    for lane in range(work.speed.size):
        floor = length * member.network.box[0, lane] * work.stage.film.shape[1]  # 1 W/m2 of aperture
        work.whole[Column.RESIDUAL, lane] = _residual(work.whole, BOX_TERMS, lane, floor)
        work.whole[Column.HOUSE_RESIDUAL, lane] = _residual(work.whole, HOUSE_TERMS, lane, floor)
    _add(work.interval, work.whole)


@kernel
def _residual(whole: Array, terms: tuple[tuple[int, float], ...], lane: int, floor: float) -> float:
    """Return |in - out - stored| over the sum of the terms' sizes [-]."""
    balance, size = 0.0, 0.0
    for column, sign in terms:
        balance += sign * whole[column, lane]
        size += abs(whole[column, lane])
    return abs(balance) / max(size, floor)
