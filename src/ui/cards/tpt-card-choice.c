#include "config.h"

#include "tpt-card-private.h"

/* A deployment is chosen by itself when it fits at least so well, and so much
 * better than the next: without a serial number many fit by their dates alone. */
#define CONVINCING 0.5
#define CLEARLY 0.1

/* The station's own deployment that nothing contradicts: the one at work, else
 * the first, which fits best; -1 for none. */
static int
find_station (TptCard *self)
{
  GPtrArray *matches = tpt_job_survey_get_matches (self->survey);
  int found = -1;

  for (guint i = 0; i < matches->len; i++)
    {
      const TptSurveyMatch *match = matches->pdata[i];

      if (g_strcmp0 (match->station, self->station) != 0 || match->objections->len > 0)
        continue;
      if (match->end == TPT_NO_INSTANT)
        return (int) i;
      if (found < 0)
        found = (int) i;
    }
  return found;
}

static gboolean
is_clear (GPtrArray *matches)
{
  const TptSurveyMatch *best = matches->len > 0 ? matches->pdata[0] : NULL;
  const TptSurveyMatch *next = matches->len > 1 ? matches->pdata[1] : NULL;

  return best != NULL && best->fits >= CONVINCING && best->reasons->len > 0
         && (next == NULL || best->fits - next->fits >= CLEARLY);
}

int
tpt_card_choose_first (TptCard *self)
{
  if (is_clear (tpt_job_survey_get_matches (self->survey)))
    return 0;
  return self->station != NULL ? find_station (self) : -1;
}

void
tpt_card_choose (TptCard *self, int match)
{
  if (self->chosen == match)
    return;
  self->chosen = match;
  g_hash_table_remove_all (self->steps); /* they were another deployment's */
  g_signal_emit_by_name (self, "changed");
}

int
tpt_card_get_chosen (TptCard *self)
{
  return self->chosen;
}

const TptSurveyMatch *
tpt_card_get_match (TptCard *self)
{
  TptJobSurvey *survey = tpt_card_get_survey (self);
  GPtrArray *matches = survey != NULL ? tpt_job_survey_get_matches (survey) : NULL;

  return matches != NULL && self->chosen >= 0 && (guint) self->chosen < matches->len ? matches->pdata[self->chosen] : NULL;
}

gboolean
tpt_card_is_disputed (TptCard *self)
{
  const TptSurveyMatch *match = tpt_card_get_match (self);

  return match != NULL && match->objections->len > 0 && self->agreed != self->chosen;
}

void
tpt_card_agree (TptCard *self)
{
  self->agreed = self->chosen;
}

static gboolean
is_proposed (TptCard *self, const char *id)
{
  const TptSurveyMatch *match = tpt_card_get_match (self);

  for (guint i = 0; match != NULL && i < match->steps->len; i++)
    if (g_str_equal (((const TptClockStep *) match->steps->pdata[i])->id, id))
      return ((const TptClockStep *) match->steps->pdata[i])->proposed;
  return FALSE;
}

gboolean
tpt_card_get_step (TptCard *self, const char *id)
{
  gpointer on;

  if (self->read != NULL && (g_str_equal (id, "offset") || g_str_equal (id, "drift")))
    return FALSE;
  return g_hash_table_lookup_extended (self->steps, id, NULL, &on) ? GPOINTER_TO_INT (on) : is_proposed (self, id);
}

void
tpt_card_set_step (TptCard *self, const char *id, gboolean on)
{
  g_hash_table_insert (self->steps, g_strdup (id), GINT_TO_POINTER (on));
}

void
tpt_card_set_pair (TptCard *self, const char *read, const char *true_time)
{
  if (g_strcmp0 (self->read, read) == 0 && g_strcmp0 (self->true_time, true_time) == 0)
    return;
  g_free (self->read);
  g_free (self->true_time);
  self->read = g_strdup (read);
  self->true_time = g_strdup (true_time);
  g_signal_emit_by_name (self, "changed");
}

gboolean
tpt_card_has_pair (TptCard *self)
{
  return self->read != NULL;
}

void
tpt_card_set_pair_unclear (TptCard *self, gboolean unclear)
{
  if (self->pair_unclear == unclear)
    return;
  self->pair_unclear = unclear;
  g_signal_emit_by_name (self, "changed");
}

GPtrArray *
tpt_card_list_wanted_steps (TptCard *self)
{
  const TptSurveyMatch *match = tpt_card_get_match (self);
  GPtrArray *ids = g_ptr_array_new ();

  for (guint i = 0; i < match->steps->len; i++)
    {
      const TptClockStep *step = match->steps->pdata[i];

      if (tpt_card_get_step (self, step->id))
        g_ptr_array_add (ids, step->id);
    }
  g_ptr_array_add (ids, NULL);
  return ids;
}
