/* Everything on record about one station: its rig, its visits, each unit's log. */
#pragma once

#include "tpt-figure.h"
#include "tpt-job.h"
#include "tpt-record.h"

G_BEGIN_DECLS

/* A unit in the rig: what it is, since when, and its last reading. */
#define TPT_TYPE_RIG_ITEM (tpt_rig_item_get_type ())
G_DECLARE_FINAL_TYPE (TptRigItem, tpt_rig_item, TPT, RIG_ITEM, GObject)

TptRecord *tpt_rig_item_get_unit (TptRigItem *self);
TptRecord *tpt_rig_item_get_fitting (TptRigItem *self);
/* (nullable): its newest reading. */
TptRecord *tpt_rig_item_get_reading (TptRigItem *self);

/* Something that happened. Property "text". @unit is %NULL for the station's own. */
#define TPT_TYPE_LOG_ITEM (tpt_log_item_get_type ())
G_DECLARE_FINAL_TYPE (TptLogItem, tpt_log_item, TPT, LOG_ITEM, GObject)

TptInstant tpt_log_item_get_at (TptLogItem *self);
const char *tpt_log_item_get_text (TptLogItem *self);
const char *tpt_log_item_get_unit (TptLogItem *self);
/* (transfer none) (nullable): the log entry it tells of, which can be edited;
 * %NULL for what follows from visits, fittings and dates. */
TptRecord *tpt_log_item_get_entry (TptLogItem *self);

#define TPT_TYPE_JOB_STATION (tpt_job_station_get_type ())
G_DECLARE_FINAL_TYPE (TptJobStation, tpt_job_station, TPT, JOB_STATION, TptJob)

/* @station: its code; @on: the moment of asking, %TPT_NO_INSTANT for now. */
TptJobStation *tpt_job_station_new (const char *station, TptInstant on);

TptRecord *tpt_job_station_get_record (TptJobStation *self);
/* (nullable): the deployment at work. */
TptRecord *tpt_job_station_get_deployment (TptJobStation *self);
/* (transfer none): #TptRigItem, camera first; empty without a rig. */
GListModel *tpt_job_station_get_rig (TptJobStation *self);
/* (transfer none): #TptRecord of visits, newest first. */
GListModel *tpt_job_station_get_visits (TptJobStation *self);
/* (transfer none): #TptLogItem of the station and of every unit ever fitted
 * here while it was, newest first. */
GListModel *tpt_job_station_get_log (TptJobStation *self);
/* (transfer none): frames a day, visits, gaps and readings of the last half year. */
TptFigure *tpt_job_station_get_timeline (TptJobStation *self);

G_END_DECLS
