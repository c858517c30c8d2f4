/* Everything known at a moment of asking that forecasts stand on, read once for
 * all stations; and what follows from it for one rig.
 *
 * After tpt_due_facts_new() nothing asks the project any more: forecasts of
 * different stations may run in different threads.
 */
#pragma once

#include "sci-drain.h"
#include "sci-runout.h"
#include "sci-traffic.h"
#include "tpt-query-due.h"
#include "tpt-station-item.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* Days of history that teach: two years show a season twice. */
#define TPT_DUE_MEMORY (740 * TPT_DAY)

/* A deployment begun at or before the moment of asking. */
typedef struct {
  gint64 id;
  TptRecord *record; /* (owned) */
  gint64 station_id;
  double latitude, longitude; /* NAN unknown */
  TptInstant start;
  TptInstant end; /* the moment of asking while it runs */
  double frames_per_trigger;
  guint first_watch, n_watches;     /* in TptDueFacts.watches */
  guint first_trigger, n_triggers;  /* in TptDueFacts.triggers */
  double home_mb;                   /* mean size of the frames that came home; NAN */
} TptDueDeployment;

/* A unit that stands in a rig, with what its past taught. */
typedef struct {
  TptRecord *unit; /* (unowned) */
  GArray *looks;   /* (owned) (element-type SciLook): at the present cells, by time */
  SciDrain past;   /* what the sets of cells before said */
  double expected; /* use of the present cells until the rig was last known */
  gboolean found_dead; /* and nothing done about it */
  SciFactor factor;    /* the unit's own */
} TptDueLife;

typedef struct {
  TptStore *store; /* (unowned): only while the facts are read */
  TptInstant on;
  TptInstant until;
  double threshold;
  GHashTable *units;       /* (owned) (element-type utf8 TptRecord): by code */
  GHashTable *unit_ids;    /* (owned) (element-type gint64 TptRecord) */
  GPtrArray *deployments;  /* (owned) (element-type TptDueDeployment) */
  GHashTable *by_id;       /* (owned): deployments by id */
  GHashTable *by_code;     /* (owned): deployments by code */
  GArray *visits;          /* (owned) (element-type TptVisitRow) */
  GArray *fittings;        /* (owned) (element-type TptFittingRow): by unit */
  GArray *readings;        /* (owned) (element-type TptReadingRow): by unit */
  GArray *triggers;        /* (owned) (element-type TptTriggerRow) */
  GArray *watches;         /* (owned) (element-type SciWatch): by deployment, then time */
  GHashTable *rigs;        /* (owned) (element-type gint64 GArray of guint): by deployment id, the
                              indices of its open fittings in fittings */
  GHashTable *fresh_cards; /* (owned) (element-type gint64 GArray of TptInstant): by station id, when an
                              empty card came in */
  GHashTable *lives;       /* (owned) (element-type gint64 TptDueLife): by unit id */
  SciTraffic traffic;
} TptDueFacts;

TptDueFacts *tpt_due_facts_new (TptStore *store, TptInstant on, TptInstant until, GError **error);
void tpt_due_facts_free (TptDueFacts *facts);

/* The visits of a station as a slice of facts->visits, by time. */
const TptVisitRow *tpt_due_facts_find_visits (const TptDueFacts *facts, gint64 station_id, guint *n);

/* The rows of one unit, likewise. */
const TptFittingRow *tpt_due_facts_find_fittings (const TptDueFacts *facts, gint64 unit_id, guint *n);
const TptReadingRow *tpt_due_facts_find_readings (const TptDueFacts *facts, gint64 unit_id, guint *n);

/* (nullable) */
TptDueDeployment *tpt_due_facts_find_deployment (const TptDueFacts *facts, gint64 id);

/* A moment in the days that science counts in. */
double tpt_due_day (TptInstant at);

/* Fills facts->watches from frames that came home and counts on cards. */
void tpt_due_find_watches (TptDueFacts *facts);

/* Triggers of a deployment within a stretch: counted where they were, expected
 * elsewhere; @rel is the relative deviation of the answer. */
double tpt_due_count_triggers (const TptDueFacts *facts, const TptDueDeployment *deployment, TptInstant from, TptInstant to,
                               double *rel);

/* The rate of a deployment with time 0 at @at. */
SciRate tpt_due_rate (const TptDueFacts *facts, const TptDueDeployment *deployment, TptInstant at);

/* The chance that a trigger of a deployment falls in the dark. */
double tpt_due_night_share (const TptDueFacts *facts, const TptDueDeployment *deployment, TptInstant at);

/* When a deployment was last seen: its newest visit, else its start. @visit
 * (out) (nullable). */
TptInstant tpt_due_known_at (const TptDueFacts *facts, const TptDueDeployment *deployment, const TptVisitRow **visit);

/* Fills facts->lives: needs the watches. */
void tpt_due_find_lives (TptDueFacts *facts);

/* What a unit's cells hold when whole and what it draws, for a deployment. */
typedef struct {
  double full_mah;
  double full_log_sd;     /* over the usual spread of cells: a guessed rating */
  double sleep_ma;        /* with self-discharge */
  double mas_per_trigger;
  gboolean drain_known;
  gboolean has_cells;     /* something to run out of */
  gboolean pace_only;     /* capacity or drain unknown: the numbers above only
                             say how fast such a thing usually goes */
} TptDuePower;

TptDuePower tpt_due_power (const TptDueFacts *facts, const TptDueDeployment *deployment, TptRecord *unit, TptInstant at);

/* What a unit has left when its rig was last known, as science wants it;
 * @why (out) (transfer full) (nullable): "cannot say because …". */
SciUnit tpt_due_unit (const TptDueFacts *facts, const TptDueDeployment *deployment, TptRecord *unit, double *full_mah, char **why);

/* Fills the forecast of @item, which has a deployment. */
void tpt_due_forecast (const TptDueFacts *facts, TptStationItem *item);

/* The same for every item that has one, on all processors; leaves off when
 * @cancellable is cancelled. */
void tpt_due_forecast_all (const TptDueFacts *facts, GPtrArray *items, GCancellable *cancellable);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptDueFacts, tpt_due_facts_free)

G_END_DECLS
