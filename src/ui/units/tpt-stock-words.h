/* What a thing in stock is called. */
#pragma once

#include "tpt-record.h"

G_BEGIN_DECLS

/* (transfer full): "Blue box, AA, NiMH", "AA cells, NiMH", "Cards, 32 GB". */
char *tpt_stock_words (TptRecord *item);

G_END_DECLS
