/* Where and when each species turned up, for the nights the cameras worked. */
#pragma once

#include "tpt-figure.h"
#include "tpt-filter.h"
#include "tpt-job.h"
#include "tpt-record.h"

G_BEGIN_DECLS

/**
 * TptRate: a number of detections and what it means.
 * @detections: independent records
 * @individuals: animals in them: the largest count within each detection, summed
 * @stations: stations with at least one
 * @nights: trap nights
 * @per_100: detections per 100 trap nights; NAN without effort
 * @low, @high: exact 95 % Poisson interval of @per_100
 */
typedef struct {
  gint64 detections;
  gint64 individuals;
  int stations;
  double nights;
  double per_100;
  double low;
  double high;
} TptRate;

#define TPT_TYPE_SPECIES_ITEM (tpt_species_item_get_type ())
G_DECLARE_FINAL_TYPE (TptSpeciesItem, tpt_species_item, TPT, SPECIES_ITEM, GObject)

TptRecord *tpt_species_item_get_record (TptSpeciesItem *self);
/* Common name in the language of the session, else English, else scientific. */
const char *tpt_species_item_get_title (TptSpeciesItem *self);
const TptRate *tpt_species_item_get_rate (TptSpeciesItem *self);
/* By its scientific name or a common name in any language; case does not matter. */
gboolean tpt_species_item_is_called (TptSpeciesItem *self, const char *name);

/* One station's part in the findings. */
#define TPT_TYPE_PLACE_ITEM (tpt_place_item_get_type ())
G_DECLARE_FINAL_TYPE (TptPlaceItem, tpt_place_item, TPT, PLACE_ITEM, GObject)

TptRecord *tpt_place_item_get_record (TptPlaceItem *self);
const char *tpt_place_item_get_title (TptPlaceItem *self);
const TptRate *tpt_place_item_get_rate (TptPlaceItem *self); /* nights 0: not worked */

#define TPT_TYPE_JOB_FINDINGS (tpt_job_findings_get_type ())
G_DECLARE_FINAL_TYPE (TptJobFindings, tpt_job_findings, TPT, JOB_FINDINGS, TptJob)

/* @filter is copied. Its species choose what the places, the strip and the
 * sentence are about; the species list always shows all. */
TptJobFindings *tpt_job_findings_new (const TptFilter *filter);

/* Before it runs. The strip shows what another filter chooses at the same stations beside it: another species, or
 * another period, moved so that the two begin together. All else is of the first alone. Copied. */
void tpt_job_findings_compare (TptJobFindings *self, const TptFilter *other);

/* Before it runs: the strip is not wanted, and not drawn. */
void tpt_job_findings_leave_strip (TptJobFindings *self);

/* (transfer none): #TptSpeciesItem, most detections first; species on the list
 * that were not seen are last, with none. */
GListModel *tpt_job_findings_get_species (TptJobFindings *self);
/* (transfer none): #TptPlaceItem, by code. */
GListModel *tpt_job_findings_get_places (TptJobFindings *self);
/* Of the chosen species together. */
const TptRate *tpt_job_findings_get_rate (TptJobFindings *self);
/* The period with effort within the filter's; both ends set unless there is none. */
TptRange tpt_job_findings_get_period (TptJobFindings *self);
/* (transfer none): "Sun bear, at all 14 stations, 1 March 2025 to 12 June 2026,
 * any hour. 63 detections in 4,218 trap nights: 1.49 per 100 (1.15 to 1.91)." */
const char *tpt_job_findings_get_sentence (TptJobFindings *self);
/* (transfer none) (nullable): stations through time; %NULL when it was to be left out. */
TptFigure *tpt_job_findings_get_strip (TptJobFindings *self);

G_END_DECLS
