/* A method tried on invented scenes: what it says of each trigger, beside the
 * truth, and how well the two go together. */
#pragma once

#include "blank-scenes.h"
#include "sci-blank.h"

#define TRIAL_WIDTH 144
#define TRIAL_HEIGHT 108

/* One trigger: higher values mean 'something is there'. NaN: not told. */
typedef struct {
  double measure;
  double difference; /* the largest mean difference of two of its frames: the trivial way */
  gboolean shown;
} TrialTrigger;

static inline guint8 *
trial_render (const BlankScene *scene)
{
  guint n = scene->condition->n_triggers, frames = scene->condition->n_frames;
  gsize size = (gsize) scene->width * (gsize) scene->height;
  guint8 *pictures = g_malloc (n * frames * size);

  for (guint i = 0; i < n * frames; i++)
    blank_scene_render (scene, i / frames, i % frames, pictures + i * size);
  return pictures;
}

static inline double
trial_difference (const guint8 *const *frames, guint n, gsize size)
{
  double most = n > 1 ? 0 : NAN;

  for (guint a = 0; a < n; a++)
    for (guint b = a + 1; b < n; b++)
      {
        double sum = 0;

        for (gsize i = 0; i < size; i++)
          sum += ABS (frames[a][i] - frames[b][i]);
        most = MAX (most, sum / (double) size);
      }
  return most;
}

static inline TrialTrigger
trial_measure (const BlankScene *scene, const guint8 *pictures, guint which)
{
  guint n_frames = scene->condition->n_frames;
  gsize size = (gsize) scene->width * (gsize) scene->height;
  const guint8 *frames[8], *others[2 * SCI_TRIGGERS_MOST];
  int kinds[256] = { 0 }, chosen[SCI_TRIGGERS_MOST];
  int n = sci_blank_choose (scene->at, kinds, (int) scene->condition->n_triggers, (int) which, chosen), n_others = 0;
  SciTrigger trigger = { scene->width, scene->height, frames, (int) n_frames, others, 0 };

  for (guint i = 0; i < n_frames; i++)
    frames[i] = pictures + (which * n_frames + i) * size;
  for (int i = 0; i < n; i++)
    {
      others[n_others++] = pictures + (gsize) chosen[i] * n_frames * size;
      if (n_frames > 1)
        others[n_others++] = pictures + ((gsize) chosen[i] * n_frames + n_frames - 1) * size;
    }
  trigger.n_others = n_others;
  return (TrialTrigger){ sci_blank_measure (&trigger), trial_difference (frames, n_frames, size), scene->shown[which] };
}

/* Adds every trigger of one scene to @all (element-type TrialTrigger). */
static inline void
trial_run (const BlankCondition *condition, guint64 seed, GArray *all)
{
  BlankScene *scene = blank_scene_new (condition, seed, TRIAL_WIDTH, TRIAL_HEIGHT);
  g_autofree guint8 *pictures = trial_render (scene);

  for (guint i = 0; i < condition->n_triggers; i++)
    {
      TrialTrigger trigger = trial_measure (scene, pictures, i);

      g_array_append_val (all, trigger);
    }
  blank_scene_free (scene);
}

static inline double
trial_value (const TrialTrigger *trigger, gboolean plain)
{
  double value = plain ? trigger->difference : trigger->measure;

  /* What is not told comes first, so that nothing is overlooked. */
  return isnan (value) ? INFINITY : value;
}

/* The area under the curve of hits against false alarms: how often a trigger
 * with an animal comes before one without (Hanley & McNeil 1982, Radiology 143,
 * 29); ties count half. */
static inline double
trial_area (const GArray *all, gboolean plain)
{
  double wins = 0, pairs = 0;

  for (guint i = 0; i < all->len; i++)
    for (guint j = 0; j < all->len; j++)
      {
        const TrialTrigger *a = &g_array_index (all, TrialTrigger, i), *b = &g_array_index (all, TrialTrigger, j);
        double x = trial_value (a, plain), y = trial_value (b, plain);

        if (!a->shown || b->shown)
          continue;
        wins += x > y ? 1 : x == y ? 0.5 : 0;
        pairs += 1;
      }
  return pairs > 0 ? wins / pairs : NAN;
}

static inline int
trial_compare (gconstpointer a, gconstpointer b, gpointer plain)
{
  double x = trial_value (a, GPOINTER_TO_INT (plain)), y = trial_value (b, GPOINTER_TO_INT (plain));

  return (x < y) - (x > y);
}

/* The share of triggers with an animal among the first half of the order. */
static inline double
trial_first_half (const GArray *all, gboolean plain)
{
  g_autoptr (GArray) order = g_array_copy ((GArray *) all);
  guint shown = 0, first = 0;

  g_array_sort_with_data (order, trial_compare, GINT_TO_POINTER (plain));
  for (guint i = 0; i < order->len; i++)
    if (g_array_index (order, TrialTrigger, i).shown)
      {
        shown++;
        first += i < (order->len + 1) / 2;
      }
  return shown > 0 ? (double) first / shown : NAN;
}
