/* One pass over the records for one choice of stations, period and hours: everything the
 * findings count from.
 *
 * What is on record is read from the file once and kept with the store until the
 * file changes; a pass goes over it in memory, and the latest passes are kept as well. So
 * each job of the findings asks for the pass it needs and does not wonder what it
 * costs. All on the thread that has the store; a pass may be let go of on any. */
#pragma once

#include "tpt-filter.h"
#include "tpt-job-findings.h"
#include "tpt-job-effort.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/**
 * TptDetection: an independent detection.
 * @at: start of its first record
 * @until: last frame of its last record
 * @species: index into the pass's species
 * @place: index into the pass's places
 * @animals: the largest number in one of its records
 * @sighting: the first of its records: what tpt_pass_get_hour() and
 *   tpt_pass_get_altitude() want
 */
typedef struct {
  TptInstant at;
  TptInstant until;
  guint species;
  guint place;
  int animals;
  guint sighting;
} TptDetection;

/**
 * TptPass: read-only.
 * @filter: what it was made with; its species have no bearing on it
 * @species: (element-type TptRecord): all species of the project, by scientific name
 * @places: (element-type TptRecord): the stations of the filter, by code
 * @efforts: (element-type TptEffort): of these, cut to the period, by start
 * @effort_place: for each of @efforts, its place
 * @nights: for each place, its trap nights
 * @detections: (element-type TptDetection): by species, place and time
 * @period: from the first to the last moment with effort, within the filter's; both
 *   ends %TPT_NO_INSTANT without effort
 * @all_nights: trap nights of all places
 * @independence_min: that was counted with, minutes
 * @from_first: gap from the start of the last detection instead of the last frame
 * @zone: of the project
 * @now: of the project
 */
typedef struct {
  gatomicrefcount references;
  TptFilter *filter;
  GPtrArray *species;
  GPtrArray *places;
  GPtrArray *efforts;
  GArray *effort_place;
  double *nights;
  GArray *detections;
  TptRange period;
  double all_nights;
  double independence_min;
  gboolean from_first;
  TptZone *zone;
  TptInstant now;
  struct _TptSightings *sightings; /* (owned): for the two functions below */
} TptPass;

/**
 * tpt_pass_get:
 *
 * Detections are counted among the records that start within the period, cut first; hours
 * choose among detections by their start. Effort is not cut by hours.
 *
 * Returns: (transfer full) (nullable): %NULL with TPT_ERROR_DATA for a station that does not
 *   exist, G_IO_ERROR_CANCELLED, or when the file fails
 */
TptPass *tpt_pass_get (TptStore *store, const TptFilter *filter, GCancellable *cancellable, GError **error);
TptPass *tpt_pass_ref (TptPass *self);
void tpt_pass_unref (TptPass *self);

/* Hour of the day of a detection, 0 <= h < 24. By the sun (sci-sun-hour.h, at its station and
 * date) NAN where the station has no position or the sun does not rise and set. */
double tpt_pass_get_hour (TptPass *self, const TptDetection *detection, gboolean by_sun);

/* Altitude of the sun at its start, degrees; NAN without a position. */
double tpt_pass_get_altitude (TptPass *self, const TptDetection *detection);

/**
 * tpt_pass_choose:
 * @species: (nullable): scientific or common names; %NULL for all
 *
 * Returns: (transfer full): for each species of the pass, whether it is chosen; %NULL with
 *   TPT_ERROR_DATA for a name no species has
 */
gboolean *tpt_pass_choose (TptPass *self, const char *const *species, GError **error);

/* (transfer full) (element-type TptDetection): of the chosen species, by time. */
GArray *tpt_pass_pick (TptPass *self, const gboolean *chosen);

/* (transfer full): "Sun bear", "Sun bear, Sambar", "5 species" or "All species": for a title. */
char *tpt_pass_name_species (TptPass *self, const char *const *species);

/* (transfer full): of two filters and their passes for a title, "Sun bear and Sambar", or one name when it is
 * the same. @other_filter and @other (nullable) */
char *tpt_pass_name_both (TptPass *self, const TptFilter *filter, TptPass *other, const TptFilter *other_filter);

/* From the first to the last moment with effort of either; @other (nullable). */
TptRange tpt_pass_unite_periods (TptPass *self, TptPass *other);

/* (transfer full): how detections and effort were counted, in a sentence or two, without the interval. */
char *tpt_pass_describe_method (TptPass *self);

/* (transfer full): what @filter is beside @other, for the legend of a comparison: its species if
 * these differ, else its period, else its stations, else its hours. @self is the pass of @filter. */
char *tpt_pass_name_difference (TptPass *self, const TptFilter *filter, const TptFilter *other);

/* (transfer full): common name in the language of the session, else English, else scientific. */
char *tpt_species_title (TptRecord *species);

/* Exact Poisson interval of 95 % per 100 nights; NAN without effort. */
void tpt_rate_fill (TptRate *rate);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptPass, tpt_pass_unref)

G_END_DECLS
