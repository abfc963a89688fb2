"""Where each number of a week stands in its row of numbers, and each number of a partial plan in its own.

A record is a stretch of the row; its address is where it begins, and a name here is how far in a number stands. Lists
are (address, length) in two neighbouring slots. -1 stands for "none" throughout.
"""

from __future__ import annotations

from scheduler.search.timing import NEVER as NEVER_TAU

NEVER = NEVER_TAU

# The week: first slots of the row.
(
    W_RUNS,
    W_ORDERS,
    W_SETS,
    W_PRESSES,
    W_STACKS,
    W_INKS,
    W_CLASSES,
    W_BLOCKS,
    W_BLOCK_COUNT,
    W_WORDS,
    W_GUARDS,
    W_ROOM_NEED,
    W_STAGE_NEED,
    W_FINISH_NEED,
    W_HAS_ROOM_NEED,
    W_HAS_STAGE_NEED,
    W_HAS_FINISH_NEED,
    W_STAGE_MIN,
    W_ROOM_IDLE_OK,
    W_DRY_MIN,
    W_AHEAD_MIN,
    W_NOT_AHEAD_CENTS,
    W_MOVE_CENTS,
    W_MOVE_FREE_MIN,
    W_ROOM_HOURS,
    W_STAGING_HOURS,
    W_FINISHING_HOURS,
    W_STATION_HOURS,
    W_CUTS,
    W_CUT_COUNT,
    W_COATED_NOW,
    W_WINDOWS,
    W_WINDOW_COUNT,
    W_READIES,
    W_READY_COUNT,
    W_ONE,
    W_ONE_GUARD,
    W_RUN_COUNT,
    W_ORDER_COUNT,
    W_PRESS_COUNT,
    W_STACK_COUNT,
    W_INK_RUNS,
    W_HAS_LOCKS,
    W_MOST_KEPT,
    W_PLACED_SIZE,
    W_SCRATCH_FRAMES,
    W_SCRATCH_KEPT,
    W_EVENT_ROOM,
) = range(48)
WEEK_SLOTS = 72

# In the partial plan's row: addresses are told by these slots of the week, as they are the same for all its plans.
(
    P_PLACED,
    P_QUEUES,
    P_USES,
    P_RECLAIMED,
    P_BLOCK_LEFT,
    P_ORDER_LEFT,
    P_SET_LEFT,
    P_FINISH,
    P_PACKED,
    P_STEPS,
    P_PUT_OFF,
    P_BURNS,
    P_TAKEN,
    P_CLEAN,
    P_SHOTS,
    P_RACK,
    P_WAITING,
    P_FLOOR,
) = range(49, 67)

# A partial plan: first slots of its row.
(
    S_AT,
    S_LATE,
    S_CUSHION,
    S_SET_UP,
    S_PRINT,
    S_BURN,
    S_AHEAD,
    S_MOVE,
    S_LEAST_LEFT,
    S_VERSION,
    S_PUT_OFF_COUNT,
    S_BURN_COUNT,
    S_TRIES_AGAIN,
) = range(13)
PLAN_SLOTS = 13

# Open hours: how many windows and minutes, then windows' starts, ends, minutes opened before, stops, restarts.
H_COUNT, H_TOTAL, H_STARTS = range(3)

# A run.
(
    R_ORDER,
    R_SET,
    R_BLANKS,
    R_ART,
    R_IDLE_OK,
    R_CURE,
    R_GAP,
    R_IS_STARTED,
    R_FIXED_PRESS,
    R_FIXED_START,
    R_ANNOUNCED_PRESS,
    R_ANNOUNCED_TAU,
    R_LEAST_CENTS,
    R_CHOICES,
    R_CHOICE_COUNT,
    R_AFTER,
    R_AFTER_COUNT,
    R_BEFORE,
    R_BEFORE_COUNT,
    R_MATES,
    R_MATE_COUNT,
    R_SET_UP_LEFT,
    R_LEAST_WORK,
) = range(23)
RUN_SIZE = 23

# A run on a press, in one way. The needs follow, as many numbers each as the floor has words.
(
    C_PRESS,
    C_WORK_MIN,
    C_EXTRA_MIN,
    C_STATED_MIN,
    C_WASH_UP_MIN,
    C_RE_INK_MIN,
    C_IS_PREFERRED,
    C_CENTS_PER_MIN,
    C_PRINT_CENTS,
    C_KEEP_ROOM,
    C_SETTING,
    C_WAY,
    C_STACK,
    C_OTHER_WAYS,
    C_OTHER_WAY_COUNT,
    C_HAS_SET_UP_NEED,
    C_HAS_PRINT_NEED,
    C_HAS_FLASH_NEED,
    C_SET_UP_NEED,
    C_PRINT_NEED,
    C_FLASH_NEED,
) = range(21)
CHOICE_SIZE = 21

# A stack: heads as (screen, ink) from T_HEADS on.
T_PALLET, T_FLASHES, T_FLASH_COUNT, T_HEAD_COUNT, T_HEADS = range(5)

# A press. Minutes for each ink to leave from L_LEAVE on.
(
    L_MOUNT,
    L_LOAD,
    L_CARD,
    L_PALLET,
    L_FLASH,
    L_STRIKE_OFF,
    L_HOURS,
    L_PRINTS,
    L_STACK_NOW,
    L_MINUTES_CLASS,
    L_DRYER,
    L_LEAVE,
) = range(12)

# A dryer with more than one setting: presses that print into it, minutes to settle from one setting to another.
D_PRESSES, D_PRESS_COUNT, D_ON, D_ON_COUNT, D_SETTLE, D_SETTING_COUNT = range(6)
DRYER_SIZE = 6

# A screen set; frames as (class, count).
(
    K_SCREENS,
    K_BURN_MIN,
    K_TAPE_MIN,
    K_IS_BURNED,
    K_BURN_CENTS,
    K_IS_STARTED,
    K_RUN_COUNT,
    K_FRAMES,
    K_FRAME_COUNT,
    K_USES,
) = range(10)
SET_SIZE = 10

# An order.
(
    O_RUNS,
    O_RUN_COUNT,
    O_PICKUPS,
    O_PICKUP_COUNT,
    O_MUST_LEAVE,
    O_LATE_CENTS,
    O_CUSHION_FROM,
    O_CUSHION_CENTS,
    O_FINISH_MIN,
    O_FINISH_LAG,
    O_LAST_BOX,
    O_BEFORE,
    O_BEFORE_COUNT,
    O_AFTER,
    O_AFTER_COUNT,
    O_STEPS_AT,
) = range(16)
ORDER_SIZE = 16

# A visit to a station; returns as (from, until, back). Needs as above.
V_WORK_MIN, V_HOURS, V_UNIT_NEED, V_HAS_UNIT, V_CREW_NEED, V_HAS_CREW, V_RETURNS, V_RETURN_COUNT = range(8)
STEP_SIZE = 8

# A placed run; the inks kept beside it follow.
(
    A_CHOICE,
    A_SET_UP_MIN,
    A_START,
    A_SET_UP_END,
    A_PRINT_START,
    A_END,
    A_RINSE_MIN,
    A_STAGE_START,
    A_STAGE_END,
    A_BURN_START,
    A_BURN_END,
    A_DRY,
    A_TAPE_START,
    A_TAPE_END,
    A_KEPT_COUNT,
    A_KEPT,
) = range(16)

# What getting ready came to, in the scratch row; behind it what is known of it while places between others are tried.
(
    Y_BURN_START,
    Y_BURN_END,
    Y_DRY,
    Y_TAPE_START,
    Y_TAPE_END,
    Y_STAGE_START,
    Y_STAGE_END,
    Y_FROM,
) = range(8)
X_KNOWN = 8
X_APART_COUNT = 16
X_APART = 17

# Why a run cannot be placed right now; 0: it can. DEARER: the plan is; GROW: the floor's list of events is full.
OK, FRAMES, ROOM, STATION, STAGING, PRESS, AFTER, FIXED, PACKING, DEARER, GROW = range(11)

# Kinds of change to genes.
INSERT, SWAP, HURRY, GATHER, PRESSES, RELEASE, WAIT, LATER, STAND, OVERTIME = range(10)

# The row of the moves: lists are addresses of a length and what is in it; of kin and moments, one address for each run.
(
    M_FREE,
    M_CHOOSY,
    M_SHARED,
    M_ANNOUNCED,
    M_BURNED,
    M_PROMISED,
    M_KINDS,
    M_KIN,
    M_MOMENTS,
    M_DICE,
    M_MARK_EVERY,
    M_OVERTIME_CENTS,
    M_GENOMES,
    M_BEST_CENTS,
    M_BEST_EARLINESS,
    M_IS_BETTER,
) = range(16)
MOVE_SLOTS = 16
