/* How well empty triggers are told apart, on invented scenes whose truth is known.
 * Run by hand:
 *
 *   cc -O2 -D_GNU_SOURCE -o bench-blank tests/bench/bench-blank.c -Itests/science -Isrc/science \
 *     BUILD/src/science/libtapetum-science.a $(pkg-config --cflags --libs glib-2.0) -lm
 *   ./bench-blank [SEED] [SCENES-EACH]
 *
 * For each condition, and for all together: the area under the curve of hits
 * against false alarms, and the share of triggers with an animal that come in the
 * first half of the order; then the same for the trivial way, the largest mean
 * difference of two frames of a trigger. Last, how long a trigger takes.
 */
#include <stdio.h>
#include <stdlib.h>

#include "blank-trial.h"

static void
print_row (const char *name, const GArray *all)
{
  guint shown = 0;

  for (guint i = 0; i < all->len; i++)
    shown += g_array_index (all, TrialTrigger, i).shown;
  printf ("%-26s %5u %5u   %.4f  %5.1f %%      %.4f  %5.1f %%\n", name, all->len, shown, trial_area (all, FALSE),
          100 * trial_first_half (all, FALSE), trial_area (all, TRUE), 100 * trial_first_half (all, TRUE));
  fflush (stdout);
}

static int
compare_numbers_cb (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Where the map from measure to score should have its middle. */
static void
print_spread (const GArray *all)
{
  g_autofree double *values = g_new (double, all->len);

  for (int shown = 0; shown < 2; shown++)
    {
      guint n = 0;

      for (guint i = 0; i < all->len; i++)
        if (g_array_index (all, TrialTrigger, i).shown == shown && !isnan (g_array_index (all, TrialTrigger, i).measure))
          values[n++] = g_array_index (all, TrialTrigger, i).measure;
      qsort (values, n, sizeof *values, compare_numbers_cb);
      printf ("measure of %s: 5 %% below %.1f, half below %.1f, 95 %% below %.1f\n", shown ? "animals" : "blanks ", values[n / 20],
              values[n / 2], values[n - 1 - n / 20]);
    }
}

int
main (int argc, char *argv[])
{
  guint64 seed = argc > 1 ? g_ascii_strtoull (argv[1], NULL, 10) : 1;
  guint scenes = argc > 2 ? (guint) g_ascii_strtoull (argv[2], NULL, 10) : 1;
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (TrialTrigger));
  gint64 begun = g_get_monotonic_time ();

  printf ("%-26s %5s %5s   %s          %s\n", "", "of", "with", "this method", "difference of frames");
  for (guint i = 0; i < G_N_ELEMENTS (blank_conditions); i++)
    {
      g_autoptr (GArray) some = g_array_new (FALSE, FALSE, sizeof (TrialTrigger));

      for (guint k = 0; k < scenes; k++)
        trial_run (&blank_conditions[i], seed * 1000 + k, some);
      print_row (blank_conditions[i].name, some);
      g_array_append_vals (all, some->data, some->len);
    }
  print_row ("all", all);
  print_spread (all);
  printf ("%.1f ms a trigger, drawing it included\n", (double) (g_get_monotonic_time () - begun) / 1000 / all->len);
  return 0;
}
