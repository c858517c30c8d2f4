/* What is on record around one visit: the rig that stood then, what could take
 * a unit's place, what lies on the shelf. Read once, looked at by the plan. */
#pragma once

#include "tpt-job.h"
#include "tpt-record.h"

G_BEGIN_DECLS

/**
 * TptVisitFacts:
 * @at: the moment everything here is true of
 * @now: the project's present; a visit cannot be later
 * @station: (owned)
 * @deployment: (owned) (nullable): the rig that stood there then
 * @next_start: when the first rig after @at was set out, or %TPT_NO_INSTANT
 * @last_visit: the newest visit to that rig after @at, or %TPT_NO_INSTANT
 * @recorded: a visit to the station at exactly @at is on record
 * @rig: (element-type TptRecord): fittings of that rig that held at @at, camera first
 * @units: (element-type utf8 TptRecord): those of the rig and others asked for, by code
 * @fittings: (element-type TptRecord): of the units that were not in the rig,
 *   all that had not ended by @at
 * @places: (element-type utf8 utf8): station by deployment, of @fittings
 * @later: (element-type utf8 gint64): units read on later visits to this rig,
 *   and the first moment of it
 * @last: (element-type utf8 TptRecord): the newest reading before @at, by unit of the rig
 * @stock: (element-type TptRecord)
 *
 * A plain set of values; never changed once it is read.
 */
typedef struct {
  TptInstant at, now;
  TptZone *zone;
  TptRecord *station, *deployment;
  TptInstant next_start, last_visit;
  gboolean recorded;
  GPtrArray *rig;
  GHashTable *units;
  GPtrArray *fittings;
  GHashTable *places, *later, *last;
  GPtrArray *stock;
} TptVisitFacts;

void tpt_visit_facts_free (TptVisitFacts *self);

/* (transfer none) (nullable): the unit's fitting in the rig. */
TptRecord *tpt_visit_facts_find_fitting (const TptVisitFacts *self, const char *unit);
/* (transfer none) (nullable): the unit, when it was read. */
TptRecord *tpt_visit_facts_find_unit (const TptVisitFacts *self, const char *unit);

/* (nullable): the fitting elsewhere, or here later, that keeps @unit from being
 * in the rig from @at until @to (%TPT_NO_INSTANT: further notice). */
TptRecord *tpt_visit_facts_find_hindrance (const TptVisitFacts *self, const char *unit, TptInstant to);

/* (transfer container) (element-type TptRecord): units of @kind that could go
 * into the rig: not retired, and in no rig from then on. */
GPtrArray *tpt_visit_facts_list_spares (const TptVisitFacts *self, const char *kind);

/* Reads the facts with every unit of the project among them, for a form. */
#define TPT_TYPE_JOB_VISIT_FACTS (tpt_job_visit_facts_get_type ())
G_DECLARE_FINAL_TYPE (TptJobVisitFacts, tpt_job_visit_facts, TPT, JOB_VISIT_FACTS, TptJob)

/* @at: %TPT_NO_INSTANT for now. */
TptJobVisitFacts *tpt_job_visit_facts_new (const char *station, TptInstant at);

/* (transfer full): once it has run; %NULL the second time. */
TptVisitFacts *tpt_job_visit_facts_steal (TptJobVisitFacts *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptVisitFacts, tpt_visit_facts_free)

G_END_DECLS
