/* Codes that the program gives where nobody typed one. */
#pragma once

#include "tpt-record.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* Gives a visit, a deployment or a log entry without a code one made of its
 * station or unit, its local day and a number: OTTER-2026-05-14-01; a stock item
 * one made of what it is: cells-AA-01. One that has a code keeps it. */
gboolean tpt_codes_give (TptStore *store, TptRecord *record, GError **error);

G_END_DECLS
