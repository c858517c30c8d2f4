#include "config.h"

#include "tpt-card-match-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-survey.h"
#include "tpt-words.h"

/* Weights of what speaks for a deployment. Our own: a serial number is told by
 * the camera, dates depend on its clock, counts are noted in passing. */
#define SERIAL_WEIGHT 0.5
#define DATES_WEIGHT 0.35
#define COUNT_WEIGHT 0.15
/* Neither for nor against. */
#define NEITHER 0.4
/* Counts noted in the field: the camera fires at whoever reads it. */
#define COUNT_SLACK 6
#define COUNT_SHARE 0.05
/* Whoever sets a camera up fires it, and starts are noted to the minute or the day. */
#define EDGE (15 * TPT_MINUTE)

const char *
tpt_card_view_get_serial (const TptCardView *view)
{
  for (guint i = 0; i < view->bodies->len; i++)
    {
      const TptSurveyBody *body = view->bodies->pdata[i];

      if (body->serial != NULL)
        return body->serial;
    }
  return NULL;
}

static void
free_step (gpointer data)
{
  TptClockStep *step = data;

  g_free (step->id);
  g_free (step->says);
  g_free (step->reading);
  g_free (step);
}

void
tpt_survey_match_free (TptSurveyMatch *self)
{
  if (self == NULL)
    return;
  g_free (self->deployment);
  g_free (self->station);
  g_free (self->station_title);
  g_ptr_array_unref (self->reasons);
  g_ptr_array_unref (self->objections);
  g_ptr_array_unref (self->steps);
  g_ptr_array_unref (self->doubts);
  g_free (self);
}

static void
add_words (GPtrArray *sentences, char *sentence)
{
  g_ptr_array_add (sentences, sentence);
}

/* Whether a camera with a known serial number was fitted. */
static gboolean
knows_serials (const TptCardFacts *facts)
{
  for (guint i = 0; i < facts->cameras->len; i++)
    if (tpt_record_is_set (facts->cameras->pdata[i], "serial"))
      return TRUE;
  return FALSE;
}

/* (transfer full): "camera K-05": a label tells how a unit is called in its rig,
 * not which of them it is. */
static char *
name_unit (TptRecord *unit)
{
  g_autofree char *kind = tpt_choice_inline (tpt_record_get_text (unit, "kind"));

  return g_strdup_printf ("%s %s", kind, tpt_record_get_code (unit));
}

static double
judge_serial (TptSurveyMatch *match, TptCardRecords *records, const TptCardFacts *facts, const char *serial)
{
  TptRecord *unit = tpt_card_records_find_serial (records, serial);
  g_autofree char *name = unit != NULL ? name_unit (unit) : NULL;

  if (unit != NULL && g_ptr_array_find (facts->cameras, unit, NULL))
    {
      add_words (match->reasons, g_strdup_printf (_("The camera’s serial number %1$s is that of %2$s, which stood there."), serial, name));
      return 1;
    }
  if (unit != NULL)
    add_words (match->objections, g_strdup_printf (_("The camera’s serial number %1$s is that of %2$s, which by the records did not stand there."),
                                                   serial, name));
  else if (knows_serials (facts))
    add_words (match->objections, g_strdup_printf (_("The camera’s serial number %s is that of no unit on record."), serial));
  else
    return NEITHER;
  return 0;
}

/* How many different serial numbers frames tell. */
static guint
count_serials (const TptCardView *view)
{
  g_autoptr (GHashTable) serials = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < view->bodies->len; i++)
    {
      const TptSurveyBody *body = view->bodies->pdata[i];

      if (body->serial != NULL)
        g_hash_table_add (serials, body->serial);
    }
  return g_hash_table_size (serials);
}

static double
judge_camera (TptSurveyMatch *match, TptCardRecords *records, const TptCardFacts *facts, const TptCardView *view)
{
  const char *serial = tpt_card_view_get_serial (view);
  guint n = count_serials (view);

  if (n > 1)
    add_words (match->objections, g_strdup_printf (ngettext ("The card holds frames of %u camera.", "The card holds frames of %u cameras.", n), n));
  return serial != NULL ? judge_serial (match, records, facts, serial) : NEITHER;
}

typedef struct {
  guint timed, before, after, future;
} Dates;

/* A file's time is the system's word, not the camera's: it counts where nothing
 * else is there. (transfer full): instants, without those. */
static TptInstant *
drop_file_times (const TptCardView *view, const TptInstant *at)
{
  TptInstant *kept = g_memdup2 (at, sizeof *at * (view->n + 1));
  gboolean own = FALSE;

  for (guint i = 0; i < view->n; i++)
    own |= view->sights[i].source != TPT_TIME_NONE && view->sights[i].source != TPT_TIME_FILE;
  for (guint i = 0; own && i < view->n; i++)
    if (view->sights[i].source == TPT_TIME_FILE)
      kept[i] = TPT_NO_INSTANT;
  return kept;
}

static Dates
count_dates (const TptCardFacts *facts, const TptInstant *at, guint n)
{
  TptInstant start = tpt_record_get_instant (facts->deployment, "start");
  TptInstant end = tpt_record_get_instant (facts->deployment, "end");
  Dates dates = { 0 };

  for (guint i = 0; i < n; i++)
    {
      if (at[i] == TPT_NO_INSTANT)
        continue;
      dates.timed++;
      dates.before += at[i] < start - EDGE;
      dates.future += at[i] > facts->now + TPT_DAY;
      dates.after += end != TPT_NO_INSTANT && at[i] > end + EDGE;
    }
  return dates;
}

static double
share_inside (const TptCardFacts *facts, const TptInstant *at, guint n)
{
  Dates dates = count_dates (facts, at, n);
  guint outside = dates.before + MAX (dates.after, dates.future);

  return dates.timed > 0 ? 1 - (double) MIN (outside, dates.timed) / dates.timed : NEITHER;
}

static void
judge_dates (TptSurveyMatch *match, const TptCardFacts *facts, const TptInstant *at, const TptInstant *bare, guint n)
{
  Dates d = count_dates (facts, at, n), b = count_dates (facts, bare, n);

  if (d.before > 0)
    add_words (match->objections,
               g_strdup_printf (ngettext ("%1$u of %2$u frames lies before the deployment’s start.",
                                          "%1$u of %2$u frames lie before the deployment’s start.", d.before), d.before, d.timed));
  if (d.after > 0)
    add_words (match->objections,
               g_strdup_printf (ngettext ("%1$u of %2$u frames lies after the deployment’s end.",
                                          "%1$u of %2$u frames lie after the deployment’s end.", d.after), d.after, d.timed));
  if (d.future > 0)
    add_words (match->objections, g_strdup_printf (ngettext ("%1$u of %2$u frames lies in the future.",
                                                             "%1$u of %2$u frames lie in the future.", d.future), d.future, d.timed));
  if (d.timed > 0 && d.before + d.after + d.future == 0)
    add_words (match->reasons, g_strdup (b.timed == d.timed && b.before + b.after + b.future == 0
                                           ? _("All its frames lie within the deployment’s time.")
                                           : _("With the clock put right all its frames lie within the deployment’s time.")));
}

static void
find_span (TptSurveyMatch *match, const TptInstant *at, guint n)
{
  match->first = match->last = TPT_NO_INSTANT;
  for (guint i = 0; i < n; i++)
    if (at[i] != TPT_NO_INSTANT)
      {
        match->first = match->first == TPT_NO_INSTANT ? at[i] : MIN (match->first, at[i]);
        match->last = MAX (match->last, at[i]);
      }
}

/* (nullable): the first count at or after the last frame; a frame may show who counted. */
static const TptCardCount *
find_count (const TptCardFacts *facts, TptInstant last)
{
  gboolean fits = last != TPT_NO_INSTANT && last >= tpt_record_get_instant (facts->deployment, "start");

  for (guint i = 0; fits && i < facts->counts->len; i++)
    {
      const TptCardCount *count = &g_array_index (facts->counts, TptCardCount, i);

      if (count->at >= last - TPT_HOUR)
        return count;
    }
  return NULL;
}

static double
judge_count (TptSurveyMatch *match, const TptCardFacts *facts, const TptCardView *view)
{
  const TptCardCount *count = find_count (facts, match->last);
  g_autofree char *when = NULL, *noted = NULL, *there = NULL, *differ = NULL;
  gint64 more;

  if (count == NULL)
    return NEITHER;
  more = view->files - count->frames;
  when = tpt_words_date (count->at, facts->zone);
  noted = tpt_words_number ((double) count->frames);
  there = tpt_words_number ((double) view->files);
  differ = tpt_words_number ((double) ABS (more));
  if (ABS (more) <= MAX (COUNT_SLACK, COUNT_SHARE * (double) count->frames))
    {
      add_words (match->reasons, g_strdup_printf (_("The visit of %1$s counted %2$s frames; the card holds %3$s."), when, noted, there));
      return 1;
    }
  add_words (match->objections, g_strdup_printf (more > 0 ? _("The visit of %1$s counted %2$s frames; the card holds %3$s, %4$s more.")
                                                          : _("The visit of %1$s counted %2$s frames; the card holds %3$s, %4$s fewer."),
                                                 when, noted, there, differ));
  return 0;
}

TptSurveyMatch *
tpt_card_match_new (TptCardRecords *records, const TptCardFacts *facts, const TptCardView *view)
{
  TptSurveyMatch *match = g_new0 (TptSurveyMatch, 1);
  const char *name = facts->station != NULL ? tpt_record_get_text (facts->station, "name") : NULL;
  g_autofree TptClockFrame *frames = g_new0 (TptClockFrame, view->n + 1);
  g_autofree TptInstant *at = g_new0 (TptInstant, view->n + 1);
  g_autofree TptInstant *own = NULL;
  TptClockKnown known;

  match->deployment = g_strdup (tpt_record_get_code (facts->deployment));
  match->station = g_strdup (tpt_record_get_text (facts->deployment, "station"));
  match->station_title = g_strdup (name != NULL ? name : match->station);
  match->start = tpt_record_get_instant (facts->deployment, "start");
  match->end = tpt_record_get_instant (facts->deployment, "end");
  match->reasons = g_ptr_array_new_with_free_func (g_free);
  match->objections = g_ptr_array_new_with_free_func (g_free);
  match->doubts = g_ptr_array_new_with_free_func (g_free);
  match->steps = g_ptr_array_new_with_free_func (free_step);

  tpt_card_facts_fill_known (facts, &known);
  for (guint i = 0; i < view->n; i++)
    {
      frames[i].reading = view->sights[i].reading;
      frames[i].source = view->sights[i].source;
    }
  tpt_clock_read_bare (&known.clock, frames, view->n, NULL, 0, NULL);
  for (guint i = 0; i < view->n; i++)
    at[i] = frames[i].at;
  own = drop_file_times (view, at);
  find_span (match, own, view->n);
  match->fits = SERIAL_WEIGHT * judge_camera (match, records, facts, view) + DATES_WEIGHT * share_inside (facts, own, view->n) +
                COUNT_WEIGHT * NEITHER;
  return match;
}

GPtrArray *
tpt_card_list_steps (TptClockPlan *plan, const TptClockSight *sights)
{
  GPtrArray *mends = tpt_clock_plan_get_steps (plan);
  GPtrArray *steps = g_ptr_array_new_with_free_func (free_step);

  for (guint i = 0; i < mends->len; i++)
    {
      const TptClockMend *mend = mends->pdata[i];
      TptClockStep *step = g_new0 (TptClockStep, 1);

      step->id = g_strdup (mend->id);
      step->says = g_strdup (mend->says);
      step->frames = mend->frames;
      step->reading = sights[mend->first].source != TPT_TIME_NONE ? tpt_reading_format (sights[mend->first].reading) : NULL;
      step->before = mend->before;
      step->after = mend->after;
      step->proposed = mend->proposed;
      g_ptr_array_add (steps, step);
    }
  return steps;
}

static void
copy_words (GPtrArray *to, GPtrArray *from)
{
  for (guint i = 0; i < from->len; i++)
    add_words (to, g_strdup (from->pdata[i]));
}

void
tpt_card_match_judge (TptSurveyMatch *match, const TptCardFacts *facts, const TptCardView *view, TptClockPlan *plan,
                      const char *const *ids)
{
  g_autofree TptInstant *at = g_new0 (TptInstant, view->n + 1);
  g_autofree TptInstant *bare = g_new0 (TptInstant, view->n + 1);
  g_autofree TptInstant *own = NULL, *own_bare = NULL;

  tpt_clock_plan_apply (plan, NULL, bare);
  tpt_clock_plan_apply (plan, ids, at);
  own = drop_file_times (view, at);
  own_bare = drop_file_times (view, bare);
  g_ptr_array_unref (match->steps);
  match->steps = tpt_card_list_steps (plan, view->sights);
  copy_words (match->doubts, tpt_clock_plan_get_doubts (plan));
  find_span (match, own, view->n);
  judge_dates (match, facts, own, own_bare, view->n);
  match->fits += DATES_WEIGHT * (share_inside (facts, own, view->n) - share_inside (facts, own_bare, view->n));
  match->fits += COUNT_WEIGHT * (judge_count (match, facts, view) - NEITHER);
}

int
tpt_card_match_compare_cb (gconstpointer a, gconstpointer b)
{
  const TptSurveyMatch *first = *(TptSurveyMatch *const *) a, *second = *(TptSurveyMatch *const *) b;

  if (first->fits != second->fits)
    return first->fits > second->fits ? -1 : 1;
  if (first->start != second->start)
    return first->start > second->start ? -1 : 1;
  return g_strcmp0 (first->deployment, second->deployment);
}
