/* What chosen steps come to, frame by frame and as pieces. */
#include "tpt-clock-plan-private.h"

#include <math.h>

gboolean
tpt_clock_part_covers (const TptClockPart *part, guint frame, TptInstant bare)
{
  return frame >= part->first && frame - part->first < part->n && bare != TPT_NO_INSTANT &&
         (part->from == TPT_NO_INSTANT || bare >= part->from) && (part->to == TPT_NO_INSTANT || bare < part->to);
}

double
tpt_clock_part_at (const TptClockPart *part, guint frame, TptInstant bare)
{
  if (!tpt_clock_part_covers (part, frame, bare))
    return 0;
  return part->shift_ms + (part->rate != 0 ? part->rate * (double) (bare - part->anchor) : 0);
}

/* (transfer full): whether each part is chosen. */
static gboolean *
choose_parts (TptClockPlan *self, const char *const *ids)
{
  gboolean *chosen = g_new0 (gboolean, self->parts->len + 1);

  for (guint i = 0; i < self->parts->len; i++)
    {
      const TptClockMend *step = self->steps->pdata[g_array_index (self->parts, TptClockPart, i).step];

      chosen[i] = ids != NULL && g_strv_contains (ids, step->id);
    }
  return chosen;
}

static double
sum_parts (TptClockPlan *self, const gboolean *chosen, guint frame)
{
  double sum = 0;

  for (guint i = 0; i < self->parts->len; i++)
    if (chosen[i])
      sum += tpt_clock_part_at (&g_array_index (self->parts, TptClockPart, i), frame, self->bare[frame]);
  return sum;
}

void
tpt_clock_plan_apply (TptClockPlan *self, const char *const *ids, TptInstant *at)
{
  g_autofree gboolean *chosen = choose_parts (self, ids);

  for (guint i = 0; i < self->n; i++)
    at[i] = self->bare[i] != TPT_NO_INSTANT ? self->bare[i] + (gint64) llround (sum_parts (self, chosen, i)) : TPT_NO_INSTANT;
}

static gboolean
is_same_piece (TptClockPlan *self, const gboolean *chosen, guint a, guint b)
{
  if ((self->bare[a] == TPT_NO_INSTANT) != (self->bare[b] == TPT_NO_INSTANT))
    return FALSE;
  for (guint i = 0; i < self->parts->len; i++)
    {
      const TptClockPart *part = &g_array_index (self->parts, TptClockPart, i);

      if (chosen[i] && tpt_clock_part_covers (part, a, self->bare[a]) != tpt_clock_part_covers (part, b, self->bare[b]))
        return FALSE;
    }
  return TRUE;
}

static void
free_shift (gpointer data)
{
  TptClockShift *shift = data;

  g_free (shift->why);
  g_free (shift);
}

/* (transfer full) (nullable): %NULL where nothing is added. */
static TptClockShift *
make_shift (TptClockPlan *self, const gboolean *chosen, guint first, guint n)
{
  g_autoptr (GString) why = g_string_new (NULL);
  TptClockShift *shift;
  double rate = 0;

  for (guint s = 0; s < self->steps->len; s++)
    {
      gboolean covers = FALSE;

      for (guint i = 0; i < self->parts->len; i++)
        {
          const TptClockPart *part = &g_array_index (self->parts, TptClockPart, i);

          if (!chosen[i] || part->step != s || !tpt_clock_part_covers (part, first, self->bare[first]))
            continue;
          covers = TRUE;
          rate += part->rate;
        }
      if (covers)
        g_string_append_printf (why, "%s%s", why->len > 0 ? " " : "", ((TptClockMend *) self->steps->pdata[s])->id);
    }
  if (why->len == 0)
    return NULL;
  shift = g_new0 (TptClockShift, 1);
  shift->first = first;
  shift->n = n;
  shift->why = g_strdup (why->str);
  shift->shift_s = sum_parts (self, chosen, first) / 1000.0;
  shift->drift_s_per_day = rate * 86400.0;
  return shift;
}

GPtrArray *
tpt_clock_plan_list_shifts (TptClockPlan *self, const char *const *ids)
{
  GPtrArray *shifts = g_ptr_array_new_with_free_func (free_shift);
  g_autofree gboolean *chosen = choose_parts (self, ids);
  guint first = 0;

  for (guint i = 1; i <= self->n; i++)
    {
      TptClockShift *shift;

      if (i < self->n && is_same_piece (self, chosen, i - 1, i))
        continue;
      shift = make_shift (self, chosen, first, i - first);
      if (shift != NULL)
        g_ptr_array_add (shifts, shift);
      first = i;
    }
  return shifts;
}
