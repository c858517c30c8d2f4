/* What a forecast asks of the project: everything known at the moment of
 * asking, by one query a kind, in plain rows.
 *
 * Every function returns %NULL with @error when the file fails.
 */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

typedef struct {
  gint64 id;
  gint64 station_id;
  TptInstant at;
  gint64 frames_on_card; /* -1 unknown */
  char found[12];        /* "" unknown */
} TptVisitRow;

/* (element-type TptVisitRow): by station, then time, at or before @on. */
GArray *tpt_store_read_visit_rows (TptStore *self, TptInstant on, GError **error);

typedef struct {
  gint64 unit_id;
  gint64 deployment_id;
  TptInstant from;
  TptInstant to; /* %TPT_NO_INSTANT: still there */
} TptFittingRow;

/* (element-type TptFittingRow): by unit, then time, begun at or before @on. An
 * end after @on is not known yet: it reads as open. */
GArray *tpt_store_read_fitting_rows (TptStore *self, TptInstant on, GError **error);

typedef struct {
  gint64 unit_id;
  gint64 visit_id;
  TptInstant at;  /* of the visit; %TPT_NO_INSTANT as read */
  double volts;   /* or NAN */
  double percent; /* or NAN */
  char action[12];
  char state[12];
} TptReadingRow;

/* (element-type TptReadingRow): all there are, by unit. When they were taken is
 * left to the caller, who has read the visits: joining them here takes twice
 * as long. */
GArray *tpt_store_read_reading_rows (TptStore *self, GError **error);

typedef struct {
  gint64 deployment_id;
  TptInstant at;
} TptTriggerRow;

/* (element-type TptTriggerRow): starts of triggers of batches that count, by
 * deployment, then time, within @from..@on. */
GArray *tpt_store_read_trigger_rows (TptStore *self, TptInstant from, TptInstant on, GError **error);

typedef struct {
  gint64 deployment_id;
  gint64 frames;
  gint64 bytes;
} TptCardRow;

/* (element-type TptCardRow): by deployment, what came home on cards whose last
 * frame lies at or before @on. */
GArray *tpt_store_read_card_rows (TptStore *self, TptInstant on, GError **error);

G_END_DECLS
