#include "tpt-thing.h"

TptThing *
tpt_thing_new (void)
{
  TptThing *self = g_new0 (TptThing, 1);

  self->when = (TptRange){ TPT_NO_INSTANT, TPT_NO_INSTANT };
  self->hour_from = self->hour_to = NAN;
  return self;
}

TptThing *
tpt_thing_copy (const TptThing *self)
{
  TptThing *copy = g_memdup2 (self, sizeof *self);

  copy->text = g_strdup (self->text);
  copy->station = g_strdup (self->station);
  copy->station_title = g_strdup (self->station_title);
  copy->species = g_strdup (self->species);
  copy->species_title = g_strdup (self->species_title);
  return copy;
}

void
tpt_thing_free (TptThing *self)
{
  g_free (self->text);
  g_free (self->station);
  g_free (self->station_title);
  g_free (self->species);
  g_free (self->species_title);
  g_free (self);
}

/* Whether the rows of a figure of @kind are stations; else they are species. */
static gboolean
has_rows_of_stations (const char *kind)
{
  return g_str_equal (kind, "strip") || g_str_equal (kind, "map") || g_str_equal (kind, "station");
}

TptThing *
tpt_thing_new_for_hit (const char *kind, const TptHit *hit)
{
  TptThing *self = tpt_thing_new ();
  gboolean stations = has_rows_of_stations (kind);

  self->text = g_strdup (hit->text);
  self->station = g_strdup (stations ? hit->key : hit->item_key);
  self->species = g_strdup (stations ? hit->item_key : hit->key);
  self->when = hit->when;
  self->hour_from = hit->hour_from;
  self->hour_to = hit->hour_to;
  return self;
}
