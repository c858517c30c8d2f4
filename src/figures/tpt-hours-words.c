#include "config.h"

#include "tpt-hours-private.h"
#include "tpt-phrases-private.h"
#include "tpt-words.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define MOST_PEAKS 3

/* A peak has a valley towards every higher one, at least this much below itself. */
#define VALLEY 0.8

static char *
say_percent (double percent)
{
  return g_strdup_printf ("%.1f", percent);
}

char *
tpt_hours_say_legend (const TptHoursRow *row)
{
  g_autofree char *n = tpt_words_number (row->n);

  if (row->label == NULL)
    return g_strdup_printf (_("n = %s"), n);
  /* Translators: what a curve is of, and the number of detections behind it. */
  return g_strdup_printf (_("%1$s (n = %2$s)"), row->label, n);
}

char *
tpt_hours_say_reason (const TptHours *hours,
                      const TptHoursRow *row)
{
  g_autofree char *reason = g_strdup (row->why_not);

  if (reason == NULL)
    return NULL;
  if (g_str_has_suffix (reason, "."))
    reason[strlen (reason) - 1] = '\0';
  if (hours->rows->len > 1 && row->label != NULL)
    return g_strdup_printf ("%s: %s", row->label, reason);
  return g_steal_pointer (&reason);
}

/* "7.1 % an hour (4.9 to 9.8)" */
static char *
say_curve (const TptHoursRow *row,
           double hour)
{
  g_autofree char *value = say_percent (tpt_hours_at (row, row->density, hour));
  g_autofree char *low = NULL, *high = NULL;

  if (!tpt_hours_has_band (row))
    return g_strdup_printf (_("%s %% an hour"), value);
  low = say_percent (tpt_hours_at (row, row->low, hour));
  high = say_percent (tpt_hours_at (row, row->high, hour));
  /* Translators: a share in percent and the limits of its band. */
  return g_strdup_printf (_("%1$s %% an hour (%2$s to %3$s)"), value, low, high);
}

char *
tpt_hours_say_hour (const TptHours *hours,
                    const TptHoursRow *row,
                    guint hour)
{
  g_autofree char *all = tpt_phrase_detections (row->n);
  g_autofree char *some = tpt_words_number (row->counts[hour]);
  GString *text = g_string_new (NULL);

  if (hours->rows->len > 1 && row->label != NULL)
    g_string_append_printf (text, "%s, ", row->label);
  /* Translators: two full hours, such as 06 and 07, then a number and "60 detections". */
  g_string_append_printf (text, _("%1$02u:00 to %2$02u:00: %3$s of %4$s"), hour, hour + 1, some, all);
  if (row->density != NULL)
    {
      g_autofree char *curve = say_curve (row, hour + 0.5);

      /* Translators: "7.1 % an hour (4.9 to 9.8)". */
      g_string_append_printf (text, _("; the curve gives %s"), curve);
    }
  return g_string_free (text, FALSE);
}

/* The lowest point on the way round from @from upwards to @to. */
static double
find_valley (const TptHoursRow *row,
             guint from,
             guint to)
{
  double least = row->density[from];

  for (guint i = from; i != to; i = (i + 1) % row->points)
    least = MIN (least, row->density[i]);
  return MIN (least, row->density[to]);
}

static gboolean
is_apart (const TptHoursRow *row,
          guint peak,
          const guint *others,
          guint n_others)
{
  for (guint i = 0; i < n_others; i++)
    if (MAX (find_valley (row, peak, others[i]), find_valley (row, others[i], peak)) > VALLEY * row->density[peak])
      return FALSE;
  return TRUE;
}

/* The next highest point that is a peak of its own; -1 for none. */
static int
find_peak (const TptHoursRow *row,
           const guint *others,
           guint n_others)
{
  int best = -1;

  for (guint i = 0; i < row->points; i++)
    {
      double before = row->density[(i + row->points - 1) % row->points];

      if (row->density[i] <= before || row->density[i] < row->density[(i + 1) % row->points])
        continue;
      if ((best < 0 || row->density[i] > row->density[best]) && is_apart (row, i, others, n_others))
        best = (int) i;
    }
  return best;
}

static guint
find_least (const TptHoursRow *row)
{
  guint least = 0;

  for (guint i = 1; i < row->points; i++)
    if (row->density[i] < row->density[least])
      least = i;
  return least;
}

/* "07:10 (9.8 % an hour)" */
static char *
say_point (const TptHoursRow *row,
           guint point)
{
  double hour = 24.0 * point / row->points;
  g_autofree char *when = tpt_words_hour (hour);
  g_autofree char *value = say_percent (row->density[point]);

  /* Translators: a time of day, a share in percent. */
  return g_strdup_printf (_("%1$s (%2$s %% an hour)"), when, value);
}

/* Higher ones first. */
static guint
find_peaks (const TptHoursRow *row,
            guint peaks[MOST_PEAKS])
{
  guint n = 0;

  while (n < MOST_PEAKS)
    {
      int peak = find_peak (row, peaks, n);

      if (peak < 0)
        break;
      peaks[n++] = (guint) peak;
    }
  return n;
}

char *
tpt_hours_say_peaks (const TptHoursRow *row)
{
  guint peaks[MOST_PEAKS], least = find_least (row);
  guint n = find_peaks (row, peaks);
  g_autofree char *lowest = say_point (row, least);
  g_autoptr (GString) text = g_string_new (NULL);

  if (n == 0 || row->density[least] > VALLEY * row->density[peaks[0]])
    return g_strdup (_("much the same at every hour"));
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *words = say_point (row, peaks[i]);

      if (i > 0)
        g_string_append (text, i + 1 < n ? ", " : _(" and "));
      g_string_append (text, words);
    }
  /* Translators: times of day with their shares: one or more, and one. */
  return g_strdup_printf (_("most at %1$s, least at %2$s"), text->str, lowest);
}

static char *
describe_row (const TptHoursRow *row)
{
  g_autofree char *found = tpt_phrase_detections (row->n);
  g_autofree char *peaks = row->density != NULL ? tpt_hours_say_peaks (row) : NULL;
  GString *text = g_string_new (NULL);

  if (row->label != NULL)
    g_string_append_printf (text, "%s: ", row->label);
  g_string_append (text, found);
  if (peaks != NULL)
    g_string_append_printf (text, "; %s", peaks);
  else
    g_string_append (text, _("; no curve"));
  return g_string_free (text, FALSE);
}

static void
append_light (GString *text,
              const TptHours *hours)
{
  g_autofree char *rise_first = tpt_words_hour (hours->sun.rise_first), *rise_last = tpt_words_hour (hours->sun.rise_last);
  g_autofree char *set_first = tpt_words_hour (hours->sun.set_first), *set_last = tpt_words_hour (hours->sun.set_last);

  if (hours->clock == TPT_HOURS_CLOCK)
    g_string_append_printf (text, _(" Sunrise from %1$s to %2$s, sunset from %3$s to %4$s."),
                            rise_first, rise_last, set_first, set_last);
}

char *
tpt_hours_describe (const TptHours *hours)
{
  const char *by_sun = _("When in the sun’s day detections fall, between sunrise at 06:00 and sunset at 18:00.");
  const char *by_clock = _("When in the day detections fall, by the clock.");
  GString *text = g_string_new (hours->clock == TPT_HOURS_SUN ? by_sun : by_clock);

  for (guint i = 0; i < hours->rows->len; i++)
    {
      g_autofree char *words = describe_row (g_ptr_array_index (hours->rows, i));

      g_string_append_printf (text, " %s.", words);
    }
  if (hours->rows->len == 0)
    g_string_append (text, _(" Nothing was seen."));
  if (tpt_hours_has_light (hours))
    append_light (text, hours);
  return g_string_free (text, FALSE);
}
