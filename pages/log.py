"""Log: what happened, written in a line or in three taps, and what it teaches."""

from core.ground.looking import only_looking
from pages.ui import data, frame, state
from pages.ui.log.after_the_sit import ask_after
from pages.ui.log.air_ledger import air_ledger
from pages.ui.log.form import new_entry
from pages.ui.log.in_and_out import in_and_out
from pages.ui.log.listed import entries_listed
from pages.ui.log.offered import felt_air
from pages.ui.log.season import season
from pages.ui.log.sign import sign_on_the_map
from pages.ui.log.taught import what_it_teaches
from pages.ui.log.write_line import write_line

frame.open_page("Log")
with frame.guarded():
    ground = data.scene(state.ground_path()).ground
    ask_after(ground)
    if not only_looking():
        write_line(ground)
        new_entry(ground)
    entries_listed(ground)
    sign_on_the_map(ground)
    what_it_teaches(ground)
    felt_air(ground)
    air_ledger(ground)
    season(ground)
    in_and_out(ground)
