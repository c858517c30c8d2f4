/* What the unit page says of a unit. */
#pragma once

#include "tpt-record.h"

G_BEGIN_DECLS

/* (transfer full): "Camera · K-03 · Fern & Ford Trail 2 · steel box". */
char *tpt_unit_words_make (TptRecord *unit);

/* (transfer full) (nullable): "8 × NiMH AA, 2,000 mAh a cell" or "32 GB". */
char *tpt_unit_words_cells (TptRecord *unit);

G_END_DECLS
