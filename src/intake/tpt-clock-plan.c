#include "config.h"

#include "tpt-clock-plan-private.h"

#include <math.h>

static void
free_mend (gpointer data)
{
  TptClockMend *mend = data;

  g_free (mend->id);
  g_free (mend->says);
  g_free (mend);
}

static void
clear_stretch (gpointer data)
{
  g_array_unref (((TptClockStretch *) data)->pairs);
}

TptClockMend *
tpt_clock_want_step (TptClockPlan *self, const char *id, guint *index)
{
  TptClockMend *step;

  for (guint i = 0; i < self->steps->len; i++)
    if (g_str_equal (((TptClockMend *) self->steps->pdata[i])->id, id))
      {
        *index = i;
        return self->steps->pdata[i];
      }
  step = g_new0 (TptClockMend, 1);
  step->id = g_strdup (id);
  step->as_rule = g_str_equal (id, "offset") || g_str_equal (id, "drift");
  *index = self->steps->len;
  g_ptr_array_add (self->steps, step);
  return step;
}

void
tpt_clock_say (TptClockMend *step, char *says)
{
  g_autofree char *before = step->says;

  step->says = before != NULL ? g_strjoin (" ", before, says, NULL) : g_strdup (says);
  g_free (says);
}

void
tpt_clock_add_part (TptClockPlan *self, guint step, const TptClockStretch *stretch, TptInstant from, TptInstant to,
                    TptInstant anchor, double shift_ms, double rate)
{
  TptClockPart part = { .step = step, .first = stretch->first, .n = stretch->n, .from = from, .to = to,
                        .anchor = anchor, .shift_ms = shift_ms, .rate = rate };

  if (shift_ms != 0 || rate != 0)
    g_array_append_val (self->parts, part);
}

static void
read_bare (TptClockPlan *self)
{
  g_autofree TptClockFrame *frames = g_new0 (TptClockFrame, self->n + 1);
  g_autofree TptReading *readings = g_new0 (TptReading, self->known->n_pairs + 1);

  for (guint i = 0; i < self->n; i++)
    {
      frames[i].reading = self->sights[i].reading;
      frames[i].source = self->sights[i].source;
    }
  for (guint i = 0; i < self->known->n_pairs; i++)
    readings[i] = self->known->pairs[i].read;
  tpt_clock_read_bare (&self->known->clock, frames, self->n, readings, self->known->n_pairs, self->pair_bare);
  for (guint i = 0; i < self->n; i++)
    self->bare[i] = frames[i].at;
}

static gint64
sum_step (TptClockPlan *self, guint step, guint frame)
{
  double sum = 0;

  for (guint i = 0; i < self->parts->len; i++)
    if (g_array_index (self->parts, TptClockPart, i).step == step)
      sum += tpt_clock_part_at (&g_array_index (self->parts, TptClockPart, i), frame, self->bare[frame]);
  return (gint64) llround (sum);
}

static void
count_step (TptClockPlan *self, guint index)
{
  TptClockMend *step = self->steps->pdata[index];

  for (guint i = 0; i < self->n; i++)
    {
      gint64 by = self->bare[i] != TPT_NO_INSTANT ? sum_step (self, index, i) : 0;

      if (by == 0)
        continue;
      if (step->frames++ == 0)
        {
          step->first = i;
          step->before = self->bare[i];
          step->after = self->bare[i] + by;
        }
    }
}

static int
rank (const char *id)
{
  return g_str_has_prefix (id, "reset") ? 0 : g_str_equal (id, "hour") ? 1 : g_str_equal (id, "offset") ? 2 : 3;
}

static int
compare_mends_cb (gconstpointer a, gconstpointer b)
{
  const TptClockMend *first = *(TptClockMend *const *) a, *second = *(TptClockMend *const *) b;

  if (rank (first->id) != rank (second->id))
    return rank (first->id) - rank (second->id);
  return first->first < second->first ? -1 : first->first > second->first;
}

/* Puts steps in their order; those that would change nothing go. */
static void
settle (TptClockPlan *self)
{
  g_autoptr (GPtrArray) before = g_ptr_array_copy (self->steps, NULL, NULL);
  g_autofree guint *moved = g_new0 (guint, before->len + 1);

  g_ptr_array_set_free_func (before, NULL);
  for (guint i = 0; i < self->steps->len; i++)
    count_step (self, i);
  g_ptr_array_sort (self->steps, compare_mends_cb);
  for (guint i = 0; i < before->len; i++)
    g_ptr_array_find (self->steps, before->pdata[i], &moved[i]);
  for (guint i = 0; i < self->parts->len; i++)
    g_array_index (self->parts, TptClockPart, i).step = moved[g_array_index (self->parts, TptClockPart, i).step];
  for (guint i = self->steps->len; i-- > 0;)
    if (((TptClockMend *) self->steps->pdata[i])->frames == 0)
      {
        for (guint p = self->parts->len; p-- > 0;)
          if (g_array_index (self->parts, TptClockPart, p).step == i)
            g_array_remove_index (self->parts, p);
          else if (g_array_index (self->parts, TptClockPart, p).step > i)
            g_array_index (self->parts, TptClockPart, p).step--;
        g_ptr_array_remove_index (self->steps, i);
      }
}

static void
doubt_proposed (TptClockPlan *self)
{
  g_auto (GStrv) proposed = tpt_clock_plan_list_proposed (self);
  g_autofree TptInstant *at = g_new0 (TptInstant, self->n + 1);

  tpt_clock_plan_apply (self, (const char *const *) proposed, at);
  tpt_clock_doubt_light (self, at);
}

TptClockPlan *
tpt_clock_plan_new (const TptClockKnown *known, const TptClockSight *frames, guint n)
{
  TptClockPlan *self = g_new0 (TptClockPlan, 1);

  self->known = known;
  self->sights = frames;
  self->n = n;
  self->last_pair = -1;
  self->bare = g_new0 (TptInstant, n + 1);
  self->pair_bare = g_new0 (TptInstant, known->n_pairs + 1);
  self->stretches = g_array_new (FALSE, FALSE, sizeof (TptClockStretch));
  g_array_set_clear_func (self->stretches, clear_stretch);
  self->steps = g_ptr_array_new_with_free_func (free_mend);
  self->parts = g_array_new (FALSE, FALSE, sizeof (TptClockPart));
  self->doubts = g_ptr_array_new_with_free_func (g_free);

  read_bare (self);
  tpt_clock_find_stretches (self);
  for (guint i = 0; i < self->stretches->len; i++)
    tpt_clock_mend_stretch (self, i);
  if (self->last_pair < 0 && known->n_pairs > 0)
    g_ptr_array_add (self->doubts, tpt_clock_say_stray (self, known->n_pairs - 1));
  tpt_clock_add_hours_without_pair (self);
  settle (self);
  doubt_proposed (self);
  self->known = NULL;
  self->sights = NULL;
  return self;
}

void
tpt_clock_plan_free (TptClockPlan *self)
{
  if (self == NULL)
    return;
  g_free (self->bare);
  g_free (self->pair_bare);
  g_array_unref (self->stretches);
  g_ptr_array_unref (self->steps);
  g_array_unref (self->parts);
  g_ptr_array_unref (self->doubts);
  g_free (self);
}

GPtrArray *
tpt_clock_plan_get_steps (TptClockPlan *self)
{
  return self->steps;
}

GPtrArray *
tpt_clock_plan_get_doubts (TptClockPlan *self)
{
  return self->doubts;
}

static GStrv
list_steps (TptClockPlan *self, gboolean rule)
{
  g_autoptr (GPtrArray) ids = g_ptr_array_new ();

  for (guint i = 0; i < self->steps->len; i++)
    {
      const TptClockMend *step = self->steps->pdata[i];

      if (step->proposed && (!rule || step->as_rule))
        g_ptr_array_add (ids, g_strdup (step->id));
    }
  g_ptr_array_add (ids, NULL);
  return (GStrv) g_ptr_array_steal (ids, NULL);
}

GStrv
tpt_clock_plan_list_proposed (TptClockPlan *self)
{
  return list_steps (self, FALSE);
}

GStrv
tpt_clock_plan_list_rule (TptClockPlan *self)
{
  return list_steps (self, TRUE);
}

const char *
tpt_clock_plan_find_unknown (TptClockPlan *self, const char *const *ids)
{
  for (guint i = 0; ids != NULL && ids[i] != NULL; i++)
    {
      gboolean found = FALSE;

      for (guint s = 0; s < self->steps->len; s++)
        found |= g_str_equal (((TptClockMend *) self->steps->pdata[s])->id, ids[i]);
      if (!found)
        return ids[i];
    }
  return NULL;
}

gboolean
tpt_clock_plan_uses_pair (TptClockPlan *self, guint *index)
{
  if (self->last_pair < 0)
    return FALSE;
  *index = (guint) self->last_pair;
  return TRUE;
}
