#include "tpt-filter.h"

#include <math.h>

TptFilter *
tpt_filter_new (void)
{
  TptFilter *self = g_new0 (TptFilter, 1);

  self->range = (TptRange){ TPT_NO_INSTANT, TPT_NO_INSTANT };
  self->hour_from = self->hour_to = -1;
  self->independence_min = NAN;
  self->gap_from_first = -1;
  return self;
}

TptFilter *
tpt_filter_copy (const TptFilter *self)
{
  TptFilter *copy = g_new (TptFilter, 1);

  *copy = *self;
  copy->stations = g_strdupv (self->stations);
  copy->species = g_strdupv (self->species);
  return copy;
}

void
tpt_filter_free (TptFilter *self)
{
  g_strfreev (self->stations);
  g_strfreev (self->species);
  g_free (self);
}

gboolean
tpt_filter_has_hour (const TptFilter *self, TptZone *zone, TptInstant at)
{
  gint64 local;
  int minute;

  if (self->hour_from < 0 || self->hour_from == self->hour_to)
    return TRUE;
  local = at + tpt_zone_offset_at (zone, at) * TPT_SECOND;
  minute = (int) (((local % TPT_DAY) + TPT_DAY) % TPT_DAY / TPT_MINUTE);
  if (self->hour_from < self->hour_to)
    return minute >= self->hour_from && minute < self->hour_to;
  return minute >= self->hour_from || minute < self->hour_to;
}
