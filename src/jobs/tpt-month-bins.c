#include "config.h"

#include "tpt-month-bins-private.h"

#include "sci-effort.h"

int
tpt_month_number (TptZone *zone, TptInstant at)
{
  int year, month, day;

  tpt_civil_from_days (tpt_zone_local_day (zone, at), &year, &month, &day);
  return 12 * year + month - 1;
}

TptInstant
tpt_month_start (TptZone *zone, int number)
{
  return tpt_zone_day_from_number (zone, tpt_days_from_civil (number / 12, number % 12 + 1, 1));
}

/* Detections may lie outside all effort: of a camera that was found dead, or set up later than on record. */
static TptRange
find_span (TptPass *pass)
{
  TptRange span = pass->period;

  for (guint i = 0; i < pass->detections->len; i++)
    {
      TptInstant at = g_array_index (pass->detections, TptDetection, i).at;

      span.from = span.from == TPT_NO_INSTANT ? at : MIN (span.from, at);
      span.to = span.to == TPT_NO_INSTANT ? at + 1 : MAX (span.to, at + 1);
    }
  return span;
}

TptMonthBins *
tpt_month_bins_new (TptPass *pass)
{
  TptMonthBins *self = g_new0 (TptMonthBins, 1);
  TptRange span = find_span (pass);

  self->zone = tpt_zone_ref (pass->zone);
  if (span.from == TPT_NO_INSTANT)
    return self;
  self->first = tpt_month_number (self->zone, span.from);
  self->n = (guint) (tpt_month_number (self->zone, span.to - 1) - self->first) + 1;
  self->edges = g_new (TptInstant, self->n + 1);
  for (guint i = 0; i <= self->n; i++)
    self->edges[i] = tpt_month_start (self->zone, self->first + (int) i);
  return self;
}

void
tpt_month_bins_free (TptMonthBins *self)
{
  g_free (self->edges);
  tpt_zone_unref (self->zone);
  g_free (self);
}

guint
tpt_month_bins_find (const TptMonthBins *self, TptInstant at)
{
  guint low = 0, high = self->n - 1;

  while (low < high)
    {
      guint middle = (low + high) / 2;

      if (self->edges[middle + 1] > at)
        high = middle;
      else
        low = middle + 1;
    }
  return low;
}

void
tpt_month_bins_name (const TptMonthBins *self, guint month, char name[8])
{
  int number = self->first + (int) month;

  g_snprintf (name, 8, "%04d-%02d", CLAMP (number / 12, 0, 9999), number % 12 + 1);
}

double *
tpt_month_bins_nights (const TptMonthBins *self, TptPass *pass)
{
  g_autofree gint64 *worked = g_new0 (gint64, self->n + 1);
  double *nights = g_new0 (double, self->n + 1);

  for (guint i = 0; i < pass->efforts->len; i++)
    {
      GArray *ranges = ((TptEffort *) pass->efforts->pdata[i])->worked;
      g_autofree SciSpan *spans = g_new (SciSpan, ranges->len + 1);

      for (guint k = 0; k < ranges->len; k++)
        spans[k] = (SciSpan){ g_array_index (ranges, TptRange, k).from, g_array_index (ranges, TptRange, k).to };
      sci_spans_add_to_bins (spans, ranges->len, self->edges, self->n + 1, worked);
    }
  for (guint i = 0; i < self->n; i++)
    nights[i] = sci_nights (worked[i]);
  return nights;
}
