/* The names that are likely at a station and time of day, read ahead and kept
 * for a while.
 *
 * Times of day are taken to the nearest half hour: a ranking over two hours to
 * either side hardly changes within one. Signal "read": a ranking has come. */
#pragma once

#include "tpt-job-names.h"
#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_NAME_RANKS (tpt_name_ranks_get_type ())
G_DECLARE_FINAL_TYPE (TptNameRanks, tpt_name_ranks, TPT, NAME_RANKS, GObject)

TptNameRanks *tpt_name_ranks_new (TptProject *project);

/* @station: code. @minute: of the local day; -1 any. */
void tpt_name_ranks_want (TptNameRanks *self, const char *station, int minute);

/* (transfer none) (nullable) (element-type TptName): %NULL until it has been read. */
GPtrArray *tpt_name_ranks_get (TptNameRanks *self, const char *station, int minute);

/* Everything is read again when it is wanted next; the species may be others. */
void tpt_name_ranks_renew (TptNameRanks *self);

void tpt_name_ranks_stop (TptNameRanks *self);

G_END_DECLS
