/* What happened to a station or a unit, told in lines. For the jobs that make logs. */
#pragma once

#include "tpt-job-station.h"

G_BEGIN_DECLS

/* (transfer none): how people call a unit: its label, else its code. */
const char *tpt_log_unit_label (TptRecord *unit);

void tpt_log_add_deployment (GListStore *log, TptRecord *deployment);
void tpt_log_add_fitting (GListStore *log, TptRecord *fitting, TptRecord *deployment);
void tpt_log_add_visit (GListStore *log, TptRecord *visit, GPtrArray *readings);

/* @place: say where, for the log of a unit that moved about. */
void tpt_log_add_reading (GListStore *log, TptRecord *reading, TptRecord *visit, gboolean place);

/* Something with a date alone: bought, retired. */
void tpt_log_add (GListStore *log, TptInstant at, const char *unit, const char *text);

/* Newest first. */
void tpt_log_sort (GListStore *log);

G_END_DECLS
