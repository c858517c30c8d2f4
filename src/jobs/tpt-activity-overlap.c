#include "config.h"

#include "tpt-activity-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sci-circular.h"
#include "sci-overlap.h"
#include "tpt-share-private.h"
#include "tpt-words.h"

static const double *
get_hours (const TptActivitySeries *self)
{
  return (const double *) (gpointer) self->hours->data;
}

/* Detections that are in both: such sets are no independent samples. */
static guint
count_shared (const TptActivitySeries *self, const TptActivitySeries *other)
{
  g_autoptr (GHashTable) rows = g_hash_table_new (NULL, NULL);
  guint n = 0;

  for (guint i = 0; i < self->picked->len; i++)
    g_hash_table_add (rows, GUINT_TO_POINTER (g_array_index (self->picked, TptDetection, i).sighting));
  for (guint i = 0; i < other->picked->len; i++)
    n += g_hash_table_contains (rows, GUINT_TO_POINTER (g_array_index (other->picked, TptDetection, i).sighting));
  return n;
}

static char *
say_shared (guint shared)
{
  g_autofree char *n = tpt_words_number (shared);

  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                       "%s detection is in both, so the two cannot be tested against each other; "
                                       "choose them so that none is.",
                                       "%s detections are in both, so the two cannot be tested against each other; "
                                       "choose them so that none is.",
                                       shared),
                          n);
}

static char *
say_no_curve (const TptActivitySeries *self, const TptActivitySeries *other)
{
  const TptActivity *missing = self->curve == NULL ? &self->found : &other->found;

  /* Translators: a species or period, and a whole sentence that says why it has no curve. */
  return g_strdup_printf (_("An overlap takes two curves. %1$s: %2$s"), missing->label, missing->why_not);
}

static void
test_difference (TptOverlap *overlap, const TptActivitySeries *self, const TptActivitySeries *other)
{
  SciWatson watson = sci_watson_two (get_hours (self), self->hours->len, get_hours (other), other->hours->len);

  overlap->watson_u2 = watson.u2;
  overlap->watson_p = watson.p;
}

typedef struct {
  const TptActivitySeries *self;
  const TptActivitySeries *other;
  SciOverlapEstimator estimator;
  guint64 seed;
  double *values;
} Resampling;

static void
resample_cb (gpointer data, guint index)
{
  Resampling *all = data;

  all->values[index] = sci_overlap_resample (all->self->curve, all->other->curve, all->estimator, all->seed, index);
}

static gboolean
is_resampled (const TptActivitySeries *self, const TptActivityOrder *order)
{
  return order->boot > 0 && self->hours->len <= SCI_ACTIVITY_RESAMPLED_MOST;
}

static gboolean
find_interval (TptOverlap *overlap,
               Resampling *all,
               const TptActivityOrder *order,
               GCancellable *cancellable,
               GError **error)
{
  SciInterval interval;

  if (!is_resampled (all->self, order) || !is_resampled (all->other, order))
    interval = sci_overlap_normal (all->self->curve, all->other->curve, all->estimator, TPT_ACTIVITY_LEVEL);
  else
    {
      g_autofree double *values = all->values = g_new (double, order->boot);

      tpt_share_work (order->boot, resample_cb, all, cancellable);
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      interval = sci_overlap_interval (overlap->value, values, order->boot, TPT_ACTIVITY_LEVEL);
      overlap->boot = order->boot;
    }
  overlap->low = interval.lower;
  overlap->high = interval.upper;
  return TRUE;
}

TptOverlap *
tpt_activity_overlap_new (const TptActivitySeries *self,
                          const TptActivitySeries *other,
                          const TptActivityOrder *order,
                          GCancellable *cancellable,
                          GError **error)
{
  SciOverlapEstimator estimator = sci_overlap_choose (self->hours->len, other->hours->len);
  Resampling all = { self, other, estimator, order->seed, NULL };
  TptOverlap *overlap = g_new0 (TptOverlap, 1);
  guint shared = count_shared (self, other);

  overlap->estimator = estimator == SCI_OVERLAP_D1 ? "d1" : "d4";
  overlap->value = overlap->low = overlap->high = overlap->watson_u2 = overlap->watson_p = NAN;
  if (shared > 0)
    overlap->why_not = say_shared (shared);
  else if (MIN (self->hours->len, other->hours->len) >= TPT_ACTIVITY_TESTED)
    test_difference (overlap, self, other);
  if (self->curve == NULL || other->curve == NULL)
    {
      g_free (overlap->why_not);
      overlap->why_not = say_no_curve (self, other);
      return overlap;
    }
  overlap->value = sci_overlap (self->curve, other->curve, estimator);
  if (shared > 0 || find_interval (overlap, &all, order, cancellable, error))
    return overlap;
  tpt_activity_overlap_free (overlap);
  return NULL;
}

void
tpt_activity_overlap_free (TptOverlap *self)
{
  g_free (self->why_not);
  g_free (self);
}
