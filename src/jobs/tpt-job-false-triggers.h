/* How often a trigger fired at nothing: by the kind of sensor and by station.
 *
 * Only triggers that somebody has looked at count: blank against anything else.
 * The sensor is that of the trigger in the rig at that moment, else that of its
 * camera.
 */
#pragma once

#include "tpt-filter.h"
#include "tpt-job.h"

G_BEGIN_DECLS

/**
 * TptBlankShare:
 * @code: (owned): a sensor as in the units table or %NULL where it is not known;
 *   a station; %NULL for all together
 * @label: (owned): the same for people
 * @triggers: decided ones
 * @blank: false ones among them
 * @share: NAN without a decided trigger
 * @low, @high: 95 % Wilson limits
 */
typedef struct {
  char *code;
  char *label;
  gint64 triggers;
  gint64 blank;
  double share;
  double low;
  double high;
} TptBlankShare;

/* How much more of the triggers of passive sensors than of active beams were
 * blank, with Newcombe's 95 % limits; all NAN unless there are both. */
typedef struct {
  double difference;
  double low;
  double high;
} TptBlankDifference;

/* (transfer full): "31 of 212 decided triggers were blank: 15 % (11–20)". */
char *tpt_blank_share_describe (const TptBlankShare *share);

/* More than elsewhere, beyond doubt: even the lower limit of @share lies above
 * the share of @all. */
gboolean tpt_blank_share_is_high (const TptBlankShare *share, const TptBlankShare *all);

#define TPT_TYPE_JOB_FALSE_TRIGGERS (tpt_job_false_triggers_get_type ())
G_DECLARE_FINAL_TYPE (TptJobFalseTriggers, tpt_job_false_triggers, TPT, JOB_FALSE_TRIGGERS, TptJob)

/* @filter: copied: stations, period and hours; the rest has no bearing. */
TptJobFalseTriggers *tpt_job_false_triggers_new (const TptFilter *filter);

const TptBlankShare *tpt_job_false_triggers_get_all (TptJobFalseTriggers *self);
/* (element-type TptBlankShare): active beams, passive infrared, not known; those there are. */
GPtrArray *tpt_job_false_triggers_get_sensors (TptJobFalseTriggers *self);
/* (element-type TptBlankShare): stations with a decided trigger, in the order of the list. */
GPtrArray *tpt_job_false_triggers_get_stations (TptJobFalseTriggers *self);
/* (transfer none) (nullable): of one station. */
const TptBlankShare *tpt_job_false_triggers_find_station (TptJobFalseTriggers *self, const char *station);
const TptBlankDifference *tpt_job_false_triggers_get_difference (TptJobFalseTriggers *self);
/* Triggers nobody has looked at. */
gint64 tpt_job_false_triggers_get_undecided (TptJobFalseTriggers *self);

G_END_DECLS
