/* Whether a species keeps away from, or to, moonlit nights. */
#pragma once

#include "tpt-figure.h"
#include "tpt-filter.h"
#include "tpt-job.h"

G_BEGIN_DECLS

#define TPT_MOON_PARTS 8

/**
 * TptMoonPart: an eighth of the moon's round, new moon first.
 * @nights: dark time worked in it, in trap nights of the average dark time
 * @detections: after dusk and before dawn (sun below -6 degrees)
 * @rate, @low, @high: per 100 of @nights
 */
typedef struct {
  double nights;
  gint64 detections;
  double rate;
  double low;
  double high;
} TptMoonPart;

/**
 * TptMoonlight:
 * @dark: detections in the dark; all parts together
 * @p: that the parts have the same rate (Pearson's chi-square); NAN with @why_not
 * @mean_lit: mean lit share of the disc at these detections
 * @expected_lit: the same over the dark time worked
 * @why_not: (owned) (nullable)
 */
typedef struct {
  TptMoonPart parts[TPT_MOON_PARTS];
  gint64 dark;
  double p;
  double mean_lit;
  double expected_lit;
  char *why_not;
} TptMoonlight;

#define TPT_TYPE_JOB_MOON (tpt_job_moon_get_type ())
G_DECLARE_FINAL_TYPE (TptJobMoon, tpt_job_moon, TPT, JOB_MOON, TptJob)

/* @filter is copied. */
TptJobMoon *tpt_job_moon_new (const TptFilter *filter);

/* (transfer none) */
const TptMoonlight *tpt_job_moon_get (TptJobMoon *self);
/* (transfer none): kind "phases". */
TptFigure *tpt_job_moon_get_figure (TptJobMoon *self);
/* (transfer none) */
const char *tpt_job_moon_get_sentence (TptJobMoon *self);

G_END_DECLS
