/* What an intake hands out. */
#include "config.h"

#include <math.h>

#include "tpt-intake-private.h"
#include "tpt-survey.h"
#include "tpt-trigger.h"

static void
free_frame (gpointer data)
{
  TptIntakeFrame *frame = data;

  g_free (frame->source);
  g_free (frame->file);
  g_free (frame->damage);
  tpt_exif_free (frame->exif);
  g_free (frame);
}

static void
free_duplicate (gpointer data)
{
  TptIntakeDuplicate *duplicate = data;

  g_free (duplicate->source);
  g_free (duplicate->of);
  g_free (duplicate);
}

static void
free_trouble (gpointer data)
{
  TptIntakeTrouble *trouble = data;

  g_free (trouble->source);
  g_free (trouble->reason);
  g_free (trouble->kept);
  g_free (trouble);
}

TptIntake *
tpt_intake_new (void)
{
  TptIntake *intake = g_new0 (TptIntake, 1);

  intake->frames = g_ptr_array_new_with_free_func (free_frame);
  intake->duplicates = g_ptr_array_new_with_free_func (free_duplicate);
  intake->unreadable = g_ptr_array_new_with_free_func (free_trouble);
  intake->damaged = g_ptr_array_new ();
  intake->missing = g_ptr_array_new_with_free_func (free_trouble);
  intake->first = TPT_NO_INSTANT;
  intake->last = TPT_NO_INSTANT;
  return intake;
}

void
tpt_intake_free (TptIntake *intake)
{
  if (intake == NULL)
    return;
  g_ptr_array_unref (intake->frames);
  g_ptr_array_unref (intake->duplicates);
  g_ptr_array_unref (intake->unreadable);
  g_ptr_array_unref (intake->damaged);
  g_ptr_array_unref (intake->missing);
  g_clear_pointer (&intake->others, g_ptr_array_unref);
  g_free (intake->sights);
  tpt_clock_plan_free (intake->plan);
  g_strfreev (intake->steps);
  g_free (intake);
}

void
tpt_intake_add_trouble (GPtrArray *list, const char *source, const char *reason, const char *kept)
{
  TptIntakeTrouble *trouble = g_new0 (TptIntakeTrouble, 1);

  trouble->source = g_strdup (source);
  trouble->reason = g_strdup (reason);
  trouble->kept = g_strdup (kept);
  g_ptr_array_add (list, trouble);
}

static TptClockSight *
list_sights (GPtrArray *frames)
{
  TptClockSight *sights = g_new0 (TptClockSight, frames->len + 1);

  for (guint i = 0; i < frames->len; i++)
    {
      TptIntakeFrame *frame = g_ptr_array_index (frames, i);
      const TptExif *exif = frame->exif;

      frame->place = i + 1;
      sights[i] = (TptClockSight){ exif->reading, exif->source,
                                   exif->file_number >= 0 ? exif->file_number : tpt_survey_number_of_name (frame->source),
                                   exif->exposure_value, exif->flash };
    }
  return sights;
}

/* Somebody's pair for this very card goes before what visits noted. */
static TptClockKnown
get_known (const TptIntakeRequest *request, TptClockPair *own)
{
  TptClockKnown known = { .ended_at = TPT_NO_INSTANT, .latitude = NAN, .longitude = NAN };

  if (request->known != NULL)
    known = *request->known;
  known.clock = request->clock;
  if (request->clock.has_pair)
    {
      *own = (TptClockPair){ request->clock.read, request->clock.true_at };
      known.pairs = own;
      known.n_pairs = 1;
      known.sure = TRUE;
    }
  return known;
}

/* (transfer full): the steps of the plan that are asked for. */
static GStrv
choose_steps (const TptIntakeRequest *request, TptClockPlan *plan)
{
  g_auto (GStrv) base = request->clock.has_pair || request->repair ? tpt_clock_plan_list_proposed (plan)
                        : request->steps == NULL ? tpt_clock_plan_list_rule (plan) : g_new0 (char *, 1);
  g_autoptr (GPtrArray) chosen = g_ptr_array_new ();

  for (guint i = 0; i < tpt_clock_plan_get_steps (plan)->len; i++)
    {
      const char *id = ((TptClockMend *) tpt_clock_plan_get_steps (plan)->pdata[i])->id;

      if (g_strv_contains ((const char *const *) base, id) || (request->steps != NULL && g_strv_contains (request->steps, id)))
        g_ptr_array_add (chosen, g_strdup (id));
    }
  g_ptr_array_add (chosen, NULL);
  return (GStrv) g_ptr_array_steal (chosen, NULL);
}

static void
plan_clock (const TptIntakeRequest *request, TptIntake *intake, TptClock *clock)
{
  TptClockPair own;
  TptClockKnown known = get_known (request, &own);
  guint pair;

  intake->sights = list_sights (intake->frames);
  intake->plan = tpt_clock_plan_new (&known, intake->sights, intake->frames->len);
  intake->steps = choose_steps (request, intake->plan);

  *clock = request->clock;
  if (!clock->has_pair && tpt_clock_plan_uses_pair (intake->plan, &pair))
    {
      clock->has_pair = TRUE;
      clock->read = known.pairs[pair].read;
      clock->true_at = known.pairs[pair].true_at;
    }
}

static void
correct_times (const TptIntakeRequest *request, TptIntake *intake)
{
  GPtrArray *frames = intake->frames;
  g_autofree TptClockFrame *clock_frames = g_new0 (TptClockFrame, frames->len + 1);
  g_autofree TptInstant *at = g_new0 (TptInstant, frames->len + 1);
  TptClock clock;

  plan_clock (request, intake, &clock);
  tpt_clock_plan_apply (intake->plan, (const char *const *) intake->steps, at);
  for (guint i = 0; i < frames->len; i++)
    {
      clock_frames[i].reading = intake->sights[i].reading;
      clock_frames[i].source = intake->sights[i].source;
    }
  /* For the report; the instants are the plan's. */
  tpt_clock_correct (&clock, clock_frames, frames->len, &intake->clock);
  for (guint i = 0; i < frames->len; i++)
    clock_frames[i].at = at[i];
  tpt_clock_mark_doubts (&request->clock, clock_frames, frames->len);
  for (guint i = 0; i < frames->len; i++)
    {
      TptIntakeFrame *frame = g_ptr_array_index (frames, i);

      frame->at = at[i];
      frame->doubts = clock_frames[i].doubts;
    }
}

static int
compare_frames_cb (gconstpointer a, gconstpointer b)
{
  const TptIntakeFrame *first = *(TptIntakeFrame *const *) a;
  const TptIntakeFrame *second = *(TptIntakeFrame *const *) b;
  gboolean first_has = first->at != TPT_NO_INSTANT, second_has = second->at != TPT_NO_INSTANT;

  if (first_has != second_has)
    return first_has ? -1 : 1;
  if (first->at != second->at)
    return first->at < second->at ? -1 : 1;
  return tpt_scan_compare_paths (first->source, second->source);
}

static void
group_triggers (const TptIntakeRequest *request, TptIntake *intake)
{
  GPtrArray *frames = intake->frames;
  g_autofree TptTriggerFrame *given = g_new0 (TptTriggerFrame, frames->len + 1);
  g_autofree guint *triggers = g_new0 (guint, frames->len + 1);

  for (guint i = 0; i < frames->len; i++)
    {
      const TptIntakeFrame *frame = g_ptr_array_index (frames, i);

      given[i].at = frame->at;
      given[i].sequence = frame->exif->sequence;
    }

  intake->gap_s = request->gap_s > 0 ? request->gap_s : tpt_trigger_learn_gap (given, frames->len);
  intake->n_triggers = tpt_trigger_group (given, frames->len, request->frames_per_trigger, intake->gap_s, triggers);
  for (guint i = 0; i < frames->len; i++)
    ((TptIntakeFrame *) g_ptr_array_index (frames, i))->trigger = triggers[i];
}

static void
sum_up (TptIntake *intake)
{
  for (guint i = 0; i < intake->frames->len; i++)
    {
      TptIntakeFrame *frame = g_ptr_array_index (intake->frames, i);

      if (frame->damage != NULL)
        g_ptr_array_add (intake->damaged, frame);
      if (frame->at == TPT_NO_INSTANT)
        continue;
      if (intake->first == TPT_NO_INSTANT)
        intake->first = frame->at;
      intake->last = frame->at;
    }
}

void
tpt_intake_make_records (const TptIntakeRequest *request, TptIntake *intake)
{
  correct_times (request, intake);
  g_ptr_array_sort (intake->frames, compare_frames_cb);
  group_triggers (request, intake);
  sum_up (intake);
}
