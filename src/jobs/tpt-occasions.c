#include "config.h"

#include "tpt-occasions-private.h"

#include <glib/gi18n-lib.h>

#include "sci-effort.h"
#include "tpt-error.h"

/* Where each occasion begins: so many midnights on, and as long after midnight. */
typedef struct {
  TptZone *zone; /* borrowed */
  gint64 day;
  gint64 past_midnight;
  int days;
} Calendar;

static Calendar
make_calendar (TptPass *pass, int days)
{
  TptInstant start = pass->filter->range.from;

  if (start == TPT_NO_INSTANT)
    start = tpt_zone_day_start (pass->zone, pass->period.from);
  return (Calendar) { pass->zone, tpt_zone_local_day (pass->zone, start), start - tpt_zone_day_start (pass->zone, start),
                      days };
}

static gint64
find_edge (const Calendar *calendar, guint i)
{
  return tpt_zone_day_from_number (calendar->zone, calendar->day + (gint64) i * calendar->days) +
         calendar->past_midnight;
}

static gboolean
make_edges (TptOccasions *self, TptPass *pass, int days, GError **error)
{
  g_autoptr (GArray) edges = g_array_new (FALSE, FALSE, sizeof (gint64));
  Calendar calendar;

  if (pass->period.from == TPT_NO_INSTANT)
    {
      self->edges = g_new0 (gint64, 1);
      return TRUE;
    }
  calendar = make_calendar (pass, days);
  for (guint i = 0;; i++)
    {
      gint64 edge = find_edge (&calendar, i), next = find_edge (&calendar, i + 1);

      g_array_append_val (edges, edge);
      if ((pass->period.to - edge) * 2 < next - edge)
        break;
      if (i == TPT_OCCASIONS_MOST)
        {
          g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE,
                       _("More than %d occasions are too many: make them longer, or begin later."), TPT_OCCASIONS_MOST);
          return FALSE;
        }
    }
  self->n = edges->len - 1;
  self->edges = (gint64 *) (gpointer) g_array_free (g_steal_pointer (&edges), FALSE);
  return TRUE;
}

/* (transfer full) (element-type GArray): for each place, when its deployments worked. */
static GPtrArray *
gather_spans (TptPass *pass)
{
  GPtrArray *spans = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);

  for (guint i = 0; i < pass->places->len; i++)
    g_ptr_array_add (spans, g_array_new (FALSE, FALSE, sizeof (SciSpan)));
  for (guint i = 0; i < pass->efforts->len; i++)
    {
      const TptEffort *effort = pass->efforts->pdata[i];
      GArray *own = spans->pdata[g_array_index (pass->effort_place, guint, i)];

      for (guint j = 0; j < effort->worked->len; j++)
        {
          const TptRange *worked = &g_array_index (effort->worked, TptRange, j);
          SciSpan span = { worked->from, worked->to };

          g_array_append_val (own, span);
        }
    }
  return spans;
}

/* (transfer full) */
static char *
make_history (const TptOccasions *self, GArray *spans)
{
  g_autofree gint64 *worked = g_new0 (gint64, self->n + 1);
  char *history = g_new0 (char, self->n + 1);
  SciSpan *first = (SciSpan *) (gpointer) spans->data;

  if (self->n > 0)
    sci_spans_add_to_bins (first, sci_spans_unite (first, spans->len), self->edges, self->n + 1, worked);
  for (guint i = 0; i < self->n; i++)
    history[i] = worked[i] * 2 >= self->edges[i + 1] - self->edges[i] ? '0' : '.';
  return history;
}

TptOccasions *
tpt_occasions_new (TptPass *pass, int days, GError **error)
{
  g_autoptr (TptOccasions) self = g_new0 (TptOccasions, 1);
  g_autoptr (GPtrArray) spans = NULL;

  self->histories = g_ptr_array_new_with_free_func (g_free);
  if (!make_edges (self, pass, days, error))
    return NULL;
  spans = gather_spans (pass);
  for (guint i = 0; i < spans->len; i++)
    g_ptr_array_add (self->histories, make_history (self, spans->pdata[i]));
  return g_steal_pointer (&self);
}

void
tpt_occasions_free (TptOccasions *self)
{
  g_ptr_array_unref (self->histories);
  g_free (self->edges);
  g_free (self);
}

/* The occasion of a moment within the period. */
static guint
find_occasion (const TptOccasions *self, TptInstant at)
{
  guint low = 0, high = self->n;

  while (high - low > 1)
    {
      guint middle = low + (high - low) / 2;

      if (self->edges[middle] <= at)
        low = middle;
      else
        high = middle;
    }
  return low;
}

void
tpt_occasions_mark (TptOccasions *self, const TptDetection *detection)
{
  char *history = self->histories->pdata[detection->place];
  guint i;

  if (self->n == 0 || detection->at < self->edges[0] || detection->at >= self->edges[self->n])
    {
      self->left_out++;
      return;
    }
  i = find_occasion (self, detection->at);
  if (history[i] == '.')
    self->left_out++;
  else
    history[i] = '1';
}
