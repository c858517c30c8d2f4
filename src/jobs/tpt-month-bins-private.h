/* The calendar months of a pass, in the project's zone. */
#pragma once

#include "tpt-pass-private.h"

G_BEGIN_DECLS

/**
 * TptMonthBins: whole months, from the first with effort or a detection of any species to the last.
 * @n: may be 0
 * @edges: (owned): @n and 1; month i is edges[i] <= t < edges[i + 1]
 * @first: number of the first month, as of tpt_month_number()
 * @zone: (owned)
 */
typedef struct {
  guint n;
  TptInstant *edges;
  int first;
  TptZone *zone;
} TptMonthBins;

TptMonthBins *tpt_month_bins_new (TptPass *pass);
void tpt_month_bins_free (TptMonthBins *self);

/* The month of @at, which must lie within. */
guint tpt_month_bins_find (const TptMonthBins *self, TptInstant at);

/* "2026-03" */
void tpt_month_bins_name (const TptMonthBins *self, guint month, char name[8]);

/* (transfer full): trap nights of each month. */
double *tpt_month_bins_nights (const TptMonthBins *self, TptPass *pass);

/* Months since the year 0, and the first instant of one. */
int tpt_month_number (TptZone *zone, TptInstant at);
TptInstant tpt_month_start (TptZone *zone, int number);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptMonthBins, tpt_month_bins_free)

G_END_DECLS
