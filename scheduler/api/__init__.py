"""The front doors: read a week, plan it, check a plan, hand out papers.

Every plan that leaves here has been checked by the independent eye. Heavy libraries are imported when a door is used,
so that reading a week costs nothing but reading it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from scheduler.api.asking import answer_values as answer_values
from scheduler.api.asking import answers_figures as answers_figures
from scheduler.api.asking import answers_report as answers_report
from scheduler.api.asking import ask_many as ask_many
from scheduler.api.asking import ask_what_if as ask_what_if
from scheduler.api.asking import cases as cases
from scheduler.api.asking import read_moment as read_moment
from scheduler.api.asking import read_what_ifs as read_what_ifs
from scheduler.api.asking import take_answer as take_answer
from scheduler.api.asking import undo_taking as undo_taking
from scheduler.api.asking import what_if_kinds as what_if_kinds
from scheduler.api.asking import what_if_text as what_if_text
from scheduler.api.handing_out import can_make_pdf as can_make_pdf
from scheduler.api.handing_out import each_floor_paper as each_floor_paper
from scheduler.api.handing_out import floor_papers as floor_papers
from scheduler.api.handing_out import make_folder as make_folder
from scheduler.api.handing_out import write_floor_papers as write_floor_papers
from scheduler.api.handing_out import write_plan_folder as write_plan_folder
from scheduler.api.planning import chase_list as chase_list
from scheduler.api.planning import check as check
from scheduler.api.planning import compare as compare
from scheduler.api.planning import drift as drift
from scheduler.api.planning import drift_report as drift_report
from scheduler.api.planning import joint_week as joint_week
from scheduler.api.planning import measure as measure
from scheduler.api.planning import other_inputs as other_inputs
from scheduler.api.planning import pencil_in as pencil_in
from scheduler.api.planning import plan_facts as plan_facts
from scheduler.api.planning import plan_on as plan_on
from scheduler.api.planning import plan_week as plan_week
from scheduler.api.planning import planned_week as planned_week
from scheduler.api.planning import plans_before as plans_before
from scheduler.api.planning import press_words as press_words
from scheduler.api.planning import read_plan as read_plan
from scheduler.api.planning import rule_count as rule_count
from scheduler.api.planning import standing_plan as standing_plan
from scheduler.api.planning import stands_now as stands_now
from scheduler.api.planning import time_as_listed as time_as_listed
from scheduler.api.ship_days import client_file as client_file
from scheduler.api.ship_days import client_html as client_html
from scheduler.api.ship_days import client_view as client_view
from scheduler.api.ship_days import client_view_of as client_view_of
from scheduler.api.ship_days import outlook as outlook
from scheduler.api.ship_days import outlook_basis as outlook_basis
from scheduler.api.ship_days import outlook_figures as outlook_figures
from scheduler.api.ship_days import outlook_report as outlook_report
from scheduler.api.ship_days import promise as promise
from scheduler.api.ship_days import promise_figures as promise_figures
from scheduler.api.ship_days import promise_report as promise_report
from scheduler.api.ship_days import write_client_page as write_client_page
from scheduler.api.showing import beside_figures as beside_figures
from scheduler.api.showing import beside_report as beside_report
from scheduler.api.showing import figures as figures
from scheduler.api.showing import harmless as harmless
from scheduler.api.showing import holding_up as holding_up
from scheduler.api.showing import holding_up_figures as holding_up_figures
from scheduler.api.showing import holding_up_report as holding_up_report
from scheduler.api.showing import plan_view as plan_view
from scheduler.api.showing import report as report
from scheduler.api.showing import section_lines as section_lines
from scheduler.api.showing import table_lines as table_lines
from scheduler.api.showing import what_helps as what_helps
from scheduler.api.weeks import bring_sheet as bring_sheet
from scheduler.api.weeks import build_workload as build_workload
from scheduler.api.weeks import changes_since as changes_since
from scheduler.api.weeks import columns as columns
from scheduler.api.weeks import demo_week as demo_week
from scheduler.api.weeks import edit_week as edit_week
from scheduler.api.weeks import empty_sheet as empty_sheet
from scheduler.api.weeks import heading_key as heading_key
from scheduler.api.weeks import new_week as new_week
from scheduler.api.weeks import order_of as order_of
from scheduler.api.weeks import read_cells as read_cells
from scheduler.api.weeks import read_own_order as read_own_order
from scheduler.api.weeks import read_week as read_week
from scheduler.api.weeks import read_week_with_warnings as read_week_with_warnings
from scheduler.api.weeks import shop_texts as shop_texts
from scheduler.api.weeks import week_files as week_files
from scheduler.api.weeks import with_taken as with_taken
from scheduler.papers import words as words  # how moments, lengths of time and money are said

if TYPE_CHECKING:  # "as": these names are part of what this module offers
    from scheduler.domain.answers import Answer as Answer
    from scheduler.domain.answers import Answers as Answers
    from scheduler.domain.what_if import WhatIf as WhatIf
    from scheduler.holding_up import Chain as Chain
    from scheduler.holding_up import HoldingUp as HoldingUp
    from scheduler.inputs.columns import Column as Column
    from scheduler.inputs.plan_document import PlanFacts as PlanFacts
    from scheduler.inputs.week_cells import SheetCells as SheetCells
    from scheduler.inputs.what_if_files import Asked as Asked
    from scheduler.inputs.what_if_kinds import Setting as Setting
    from scheduler.insight.helps import Help as Help
    from scheduler.insight.helps import WhatHelps as WhatHelps
    from scheduler.insight.ship_days import ShipDay as ShipDay
    from scheduler.papers.answer_rows import AnswerRow as AnswerRow
    from scheduler.papers.chase_list import ChaseRow as ChaseRow
    from scheduler.papers.client_page import ClientView as ClientView
    from scheduler.papers.floor.files import Paper as Paper
    from scheduler.papers.screen_tables import ScreenRow as ScreenRow
    from scheduler.papers.tables import OrderRow as OrderRow
    from scheduler.papers.tables import QueueRow as QueueRow
    from scheduler.papers.text import Section as Section
    from scheduler.papers.yours_and_ours import YoursAndOurs as YoursAndOurs
    from scheduler.plan_view import BeltStretch as BeltStretch
    from scheduler.plan_view import PlanView as PlanView
    from scheduler.promise import Promise as Promise
    from scheduler.record.drift import Drift as Drift
    from scheduler.record.drift import PressDrift as PressDrift
    from scheduler.record.events import Event as Event
    from scheduler.record.runs_now import RunNow as RunNow
    from scheduler.record.standing import StandsNow as StandsNow
    from scheduler.review.compare import Comparison as Comparison
    from scheduler.review.measures import Measures as Measures
    from scheduler.review.violation import Violation as Violation
    from scheduler.search.genome import Genome as Genome
    from scheduler.search.result import Progress as Progress
    from scheduler.search.result import SearchResult as SearchResult
    from scheduler.shipping import Outlook as Outlook
    from scheduler.what_if.many import Case as Case
    from scheduler.workload.build import Workload as Workload
IN_ALL = 20
"""Odds are told as so many times in so many."""

PENCIL_SECONDS = 12.0
"""How long it may take to pencil in the orders that wait, and so to work out by when they need their answer."""
