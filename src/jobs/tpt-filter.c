#include "config.h"

#include "tpt-filter.h"

#include <glib/gi18n-lib.h>
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

static gboolean
has_minute (const TptFilter *self, double minute)
{
  if (self->hour_from < 0 || self->hour_from == self->hour_to)
    return TRUE;
  if (self->hour_from < self->hour_to)
    return minute >= self->hour_from && minute < self->hour_to;
  return minute >= self->hour_from || minute < self->hour_to;
}

gboolean
tpt_filter_has_hour (const TptFilter *self, TptZone *zone, TptInstant at)
{
  gint64 local = at + tpt_zone_offset_at (zone, at) * TPT_SECOND;

  return has_minute (self, (double) (((local % TPT_DAY) + TPT_DAY) % TPT_DAY / TPT_MINUTE));
}

gboolean
tpt_filter_takes_hour (const TptFilter *self, double hour)
{
  if (isnan (hour))
    return self->hour_from < 0 || self->hour_from == self->hour_to;
  return has_minute (self, hour * 60);
}

char *
tpt_filter_describe_hours (const TptFilter *filter)
{
  if (filter->hour_from < 0)
    return g_strdup (_("any hour"));
  return g_strdup_printf (filter->hours_by_sun ? _("%02d:%02d to %02d:%02d by the sun") : _("%02d:%02d to %02d:%02d"),
                          filter->hour_from / 60, filter->hour_from % 60, filter->hour_to / 60, filter->hour_to % 60);
}
