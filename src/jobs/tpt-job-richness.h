/* How many species there are, as far as the stations tell: accumulation over stations and what may be missing. */
#pragma once

#include "tpt-figure.h"
#include "tpt-filter.h"
#include "tpt-job.h"

G_BEGIN_DECLS

/**
 * TptRichness: species seen at stations that worked or saw something; one that saw nothing counts as one.
 * @stations: units of sampling
 * @observed: species
 * @incidences: pairs of a species and a station
 * @uniques, @duplicates: species at just one, at just two stations
 * @mean, @sd: (owned): @stations values: species at 1, 2, ... stations, mean and standard deviation over all choices
 * @nights: trap nights of them
 * @chao2_low, @chao2_high: interval of 95 % of it, never below @observed
 * @more: more stations to see 95 % of the species of @chao2; NAN where unknown
 * @chao2, @chao2_se, @jack1, @jack1_se, @jack2, @boot, @boot_se: estimates of all species; NAN where undefined
 * @hill: of order 0, 1, 2 of the incidences
 * @coverage: share of the incidences of the community that belongs to species seen
 * @why_not: (owned) (nullable): why estimates are missing or not to be trusted, and what would be needed
 */
typedef struct {
  guint stations;
  guint observed;
  guint incidences;
  guint uniques;
  guint duplicates;
  double *mean;
  double *sd;
  double chao2;
  double chao2_se;
  double chao2_low;
  double chao2_high;
  double jack1;
  double jack1_se;
  double jack2;
  double boot;
  double boot_se;
  double hill[3];
  double coverage;
  double nights;
  double more;
  char *why_not;
} TptRichness;

#define TPT_TYPE_JOB_RICHNESS (tpt_job_richness_get_type ())
G_DECLARE_FINAL_TYPE (TptJobRichness, tpt_job_richness, TPT, JOB_RICHNESS, TptJob)

/* @filter is copied. Stations with trap nights in its period, or with a detection, are the units; only
 * its species count, seen in its hours. */
TptJobRichness *tpt_job_richness_new (const TptFilter *filter);

/* (transfer none) */
const TptRichness *tpt_job_richness_get (TptJobRichness *self);
/* (transfer none): kind "accumulation". */
TptFigure *tpt_job_richness_get_figure (TptJobRichness *self);
/* (transfer none): what was found, without why_not. */
const char *tpt_job_richness_get_sentence (TptJobRichness *self);
/* (transfer none): how it was computed, in a sentence or two. */
const char *tpt_job_richness_get_method (TptJobRichness *self);

G_END_DECLS
