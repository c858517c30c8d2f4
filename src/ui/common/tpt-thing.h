/* A thing of the findings that was pointed at, in a figure or on the map: which
 * station, species, stretch of time and hours it stands for, and in what words. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

/**
 * TptThing:
 * @text: (owned) (nullable): one line about it
 * @station: (owned) (nullable): code
 * @station_title: (owned) (nullable): how it is called; the code will do
 * @species: (owned) (nullable): the name by which the filter knows it
 * @species_title: (owned) (nullable): how it is called; the name will do
 * @when: both ends %TPT_NO_INSTANT for none
 * @hour_from: NAN for none
 * @hour_to: over midnight when it is not after @hour_from
 * @hours_by_sun: the hours are those of the sun's day
 */
typedef struct {
  char *text;
  char *station;
  char *station_title;
  char *species;
  char *species_title;
  TptRange when;
  double hour_from;
  double hour_to;
  gboolean hours_by_sun;
} TptThing;

TptThing *tpt_thing_new (void);
TptThing *tpt_thing_copy (const TptThing *self);
void tpt_thing_free (TptThing *self);

/* (transfer full): what @hit of a figure of @kind (tpt_figure_get_kind()) stands for.
 * Keys of rows are stations in a strip and on a map, species in hours, months and a
 * matrix. Titles and the clock are for the caller to fill in. */
TptThing *tpt_thing_new_for_hit (const char *kind, const TptHit *hit);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptThing, tpt_thing_free)

G_END_DECLS
