"""The front doors of the shop's book: started, filled, planned from, written into at the press, looked at, kept safe.

The database is opened inside the doors, so that a command that needs no book loads none.
"""

from typing import TYPE_CHECKING

from scheduler.record.events import that_count as that_count
from scheduler.shop_book.bringing import Brought as Brought
from scheduler.shop_book.bringing import bring as bring
from scheduler.shop_book.bringing import hand_out as hand_out
from scheduler.shop_book.checking import Verified as Verified
from scheduler.shop_book.checking import verified as verified
from scheduler.shop_book.keeping import back_up as back_up
from scheduler.shop_book.keeping import new_book as new_book
from scheduler.shop_book.keeping import restore as restore
from scheduler.shop_book.keeping import week_of_plan as week_of_plan
from scheduler.shop_book.learning import Learnt as Learnt
from scheduler.shop_book.learning import Time as Time
from scheduler.shop_book.learning import days_told as days_told
from scheduler.shop_book.learning import designs_learnt as designs_learnt
from scheduler.shop_book.learning import last_times as last_times
from scheduler.shop_book.looking import Entry as Entry
from scheduler.shop_book.looking import Status as Status
from scheduler.shop_book.looking import history as history
from scheduler.shop_book.looking import stamp as stamp
from scheduler.shop_book.looking import status as status
from scheduler.shop_book.looking import status_figures as status_figures
from scheduler.shop_book.noting import WORDS as WORDS
from scheduler.shop_book.noting import Note as Note
from scheduler.shop_book.noting import event_text as event_text
from scheduler.shop_book.noting import events_of as events_of
from scheduler.shop_book.noting import note as note
from scheduler.shop_book.noting import note_event as note_event
from scheduler.shop_book.packing import to_pack_figures as to_pack_figures
from scheduler.shop_book.packing import to_pack_section as to_pack_section
from scheduler.shop_book.planning import Announced as Announced
from scheduler.shop_book.planning import Question as Question
from scheduler.shop_book.planning import announce as announce
from scheduler.shop_book.planning import announced_plan as announced_plan
from scheduler.shop_book.planning import dates_figures as dates_figures
from scheduler.shop_book.planning import dates_section as dates_section
from scheduler.shop_book.planning import keep_plan as keep_plan
from scheduler.shop_book.planning import question as question
from scheduler.shop_book.planning import told_before as told_before
from scheduler.shop_book.screen_states import ScreensNow as ScreensNow
from scheduler.shop_book.screen_states import screens_now as screens_now

if TYPE_CHECKING:
    from scheduler.papers.told_dates import ToldDate as ToldDate
    from scheduler.record.calibration import Calibration as Calibration
