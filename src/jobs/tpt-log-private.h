/* What happened to a station or a unit, told in lines. For the jobs that make logs. */
#pragma once

#include "tpt-job-station.h"
#include "tpt-unit-life-private.h"

G_BEGIN_DECLS

/* (transfer none): how people call a unit: its label, else its code. */
const char *tpt_log_unit_label (TptRecord *unit);

/* (transfer full): the same with its code behind it, for where many have one
 * label: "camera cells (K-03)". */
char *tpt_log_name_unit (TptRecord *unit);

void tpt_log_add_deployment (GListStore *log, TptRecord *deployment);
/* @name: what people call the unit, here and below. */
void tpt_log_add_fitting (GListStore *log, TptRecord *fitting, TptRecord *deployment, const char *name);
void tpt_log_add_visit (GListStore *log, TptRecord *visit, GPtrArray *readings);

/* (transfer full) (nullable): "12 % left, swapped for K-04"; %NULL when the
 * reading says nothing. @replacement (nullable): what people call it. */
char *tpt_log_word_reading (TptRecord *reading, const char *replacement);
void tpt_log_add_reading (GListStore *log, TptRecord *reading, TptRecord *visit, const char *name, const char *replacement);

/* (transfer full): "Damage: moisture, water in the lens (Mira)". */
char *tpt_log_word_entry (TptRecord *entry);
void tpt_log_add_entry (GListStore *log, TptRecord *entry);
/* The same with the unit's name before it, for the log of a station. */
void tpt_log_add_named_entry (GListStore *log, TptRecord *entry, const char *name);

/* Everything that ever happened to a unit, newest first. */
void tpt_log_tell_unit (TptUnitLife *life, GListStore *log, TptZone *zone);

/* Something with a date alone: bought, retired. */
void tpt_log_add (GListStore *log, TptInstant at, const char *unit, const char *text);

/* Newest first. */
void tpt_log_sort (GListStore *log);

G_END_DECLS
