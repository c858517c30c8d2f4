/* What is on record of named animals and of effort, read once and kept: what passes go over. */
#pragma once

#include "tpt-query.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/**
 * TptSightings: immutable but for the hours by the sun, which are worked out when
 * first asked for, on the thread that has the store.
 * @rows: (element-type TptSighting): by species and station, in the order of the next two, and time
 * @species: (element-type TptRecord): by scientific name
 * @places: (element-type TptRecord): stations, by code
 * @species_of, @place_of: for each row, its index in these
 * @by_time: the rows by time, at the same time by themselves
 * @efforts: (element-type TptEffort): of every deployment, to the end it may come to, by start
 * @effort_place: for each of these, its index in @places
 * @zone: of the project
 */
typedef struct _TptSightings {
  gatomicrefcount references;
  GArray *rows;
  GPtrArray *species;
  GPtrArray *places;
  guint *species_of;
  guint *place_of;
  guint *by_time;
  GPtrArray *efforts;
  GArray *effort_place;
  TptZone *zone;
  double *sun_hour;     /* (owned) (nullable): -1 for not worked out */
  double *sun_altitude; /* (owned) (nullable): the same, -1000 */
} TptSightings;

/* (transfer full): from the file as it is now. */
TptSightings *tpt_sightings_read (TptStore *store, GCancellable *cancellable, GError **error);
TptSightings *tpt_sightings_ref (TptSightings *self);
void tpt_sightings_unref (TptSightings *self);

/* Of row @row: hour of the clock or, @by_sun, of the sun's day; NAN where that is not known. */
double tpt_sightings_get_hour (TptSightings *self, guint row, gboolean by_sun);
/* Altitude of the sun, degrees; NAN without a position. */
double tpt_sightings_get_altitude (TptSightings *self, guint row);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptSightings, tpt_sightings_unref)

G_END_DECLS
