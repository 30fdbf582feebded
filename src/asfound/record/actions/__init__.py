"""What changes the record: each action is whole or not at all, and leaves a line in the log."""

from asfound.record.actions.account import create_account, grant_owner, set_password
from asfound.record.actions.assembly import (
    make_template,
    make_template_of,
    use_template,
    withdraw_template,
)
from asfound.record.actions.band_evidence import (
    take_back_band_evidence,
    use_band_as_evidence,
)
from asfound.record.actions.brief import NO_BRIEF, set_brief
from asfound.record.actions.dissent import (
    can_dissent,
    check_can_dissent,
    check_can_withdraw_dissent,
    record_dissent,
    withdraw_dissent,
)
from asfound.record.actions.draw_sheet import (
    can_redraw,
    check_can_redraw,
    redraw_sheet,
    start_car,
)
from asfound.record.actions.errand import bring_back, keep_paper, send_out, withdraw_errand
from asfound.record.actions.file_match import forget_file_match, remember_file_match
from asfound.record.actions.film import (
    correct_film_reading,
    import_film_rows,
    withdraw_film_reading,
)
from asfound.record.actions.film_bands import (
    add_film_band,
    correct_film_band,
    withdraw_film_band,
)
from asfound.record.actions.film_base import contribute_film_build, withdraw_film_build
from asfound.record.actions.finding_kind import add_finding_kind, withdraw_finding_kind
from asfound.record.actions.give_tags import give_tags
from asfound.record.actions.hold import (
    can_release,
    check_can_release,
    release_hold,
    set_hold,
)
from asfound.record.actions.invitation import (
    accept_invitation,
    invite,
    withdraw_invitation,
)
from asfound.record.actions.keep_dossier import keep_dossier
from asfound.record.actions.load import load_car
from asfound.record.actions.lock import (
    check_can_lock,
    lock_option,
    release_lock,
)
from asfound.record.actions.observation import (
    add_observations,
    correct_observation,
    withdraw_observation,
)
from asfound.record.actions.on_again import on_again, undo_on_again
from asfound.record.actions.panel_outline import (
    add_panel,
    lawful_outline,
    move_outline,
    replace_outline,
)
from asfound.record.actions.part import (
    add_parts,
    change_part,
    move_parts,
    move_parts_together,
)
from asfound.record.actions.part_fate import (
    lend_part,
    merge_parts,
    replace_part,
    split_part,
    take_back_part,
    withdraw_part,
)
from asfound.record.actions.people import (
    change_role,
    close_car_to_owner,
    restore_access,
    withdraw_access,
)
from asfound.record.actions.photo import change_photo, keep_photo, withdraw_photo
from asfound.record.actions.piece_on_car import set_piece_on_car
from asfound.record.actions.piece_options import (
    add_options,
    check_can_set_options,
    piece_options,
    set_piece_options,
)
from asfound.record.actions.pin import clear_pin, set_pin, try_pin
from asfound.record.actions.place import add_place, move_place, withdraw_place
from asfound.record.actions.proposal import (
    last_signed,
    next_number,
    open_proposal,
    send_proposal,
    withdraw_proposal,
)
from asfound.record.actions.release import release_room, withdraw_release
from asfound.record.actions.reopen import reopen_decision, reopening_hold, signed_piece
from asfound.record.actions.restore import (
    restore_film_reading,
    restore_lock,
    restore_observation,
    restore_photo,
)
from asfound.record.actions.signing import (
    answer_proposal,
    check_can_answer,
    check_can_sign,
    refused_pieces,
    sign_proposal,
)
from asfound.record.actions.small_sheet import (
    EDITED_WHOLE,
    add_to_sheet,
    rows_of_sheets,
    set_piece_rows,
    set_sheet,
    sheet_rows,
    undo_set_sheet,
)
from asfound.record.actions.spot import keep_spot
from asfound.record.actions.stock import close_count, count_place
from asfound.record.actions.strip import came_off, undo_came_off
from asfound.record.actions.tablet import add_tablet, withdraw_tablet
from asfound.record.actions.tags import new_tag, plain_tag
from asfound.record.actions.variant import keep_variant, withdraw_variant
from asfound.record.actions.weight import set_weight
from asfound.record.actions.who import is_owner_of
from asfound.record.shelf import open_kept_file

__all__ = [
    "EDITED_WHOLE",
    "NO_BRIEF",
    "accept_invitation",
    "add_film_band",
    "add_finding_kind",
    "add_observations",
    "add_options",
    "add_panel",
    "add_parts",
    "add_place",
    "add_tablet",
    "add_to_sheet",
    "answer_proposal",
    "bring_back",
    "came_off",
    "can_dissent",
    "can_redraw",
    "can_release",
    "change_part",
    "change_photo",
    "change_role",
    "check_can_answer",
    "check_can_dissent",
    "check_can_lock",
    "check_can_redraw",
    "check_can_release",
    "check_can_set_options",
    "check_can_sign",
    "check_can_withdraw_dissent",
    "clear_pin",
    "close_car_to_owner",
    "close_count",
    "contribute_film_build",
    "correct_film_band",
    "correct_film_reading",
    "correct_observation",
    "count_place",
    "create_account",
    "forget_file_match",
    "give_tags",
    "grant_owner",
    "import_film_rows",
    "invite",
    "is_owner_of",
    "keep_dossier",
    "keep_paper",
    "keep_photo",
    "keep_spot",
    "keep_variant",
    "last_signed",
    "lawful_outline",
    "lend_part",
    "load_car",
    "lock_option",
    "make_template",
    "make_template_of",
    "merge_parts",
    "move_outline",
    "move_parts",
    "move_parts_together",
    "move_place",
    "new_tag",
    "next_number",
    "on_again",
    "open_kept_file",
    "open_proposal",
    "piece_options",
    "plain_tag",
    "record_dissent",
    "redraw_sheet",
    "refused_pieces",
    "release_hold",
    "release_lock",
    "release_room",
    "remember_file_match",
    "reopen_decision",
    "reopening_hold",
    "replace_outline",
    "replace_part",
    "restore_access",
    "restore_film_reading",
    "restore_lock",
    "restore_observation",
    "restore_photo",
    "rows_of_sheets",
    "send_out",
    "send_proposal",
    "set_brief",
    "set_hold",
    "set_password",
    "set_piece_on_car",
    "set_piece_options",
    "set_piece_rows",
    "set_pin",
    "set_sheet",
    "set_weight",
    "sheet_rows",
    "sign_proposal",
    "signed_piece",
    "split_part",
    "start_car",
    "take_back_band_evidence",
    "take_back_part",
    "try_pin",
    "undo_came_off",
    "undo_on_again",
    "undo_set_sheet",
    "use_band_as_evidence",
    "use_template",
    "withdraw_access",
    "withdraw_dissent",
    "withdraw_errand",
    "withdraw_film_band",
    "withdraw_film_build",
    "withdraw_film_reading",
    "withdraw_finding_kind",
    "withdraw_invitation",
    "withdraw_observation",
    "withdraw_part",
    "withdraw_photo",
    "withdraw_place",
    "withdraw_proposal",
    "withdraw_release",
    "withdraw_tablet",
    "withdraw_template",
    "withdraw_variant",
]
