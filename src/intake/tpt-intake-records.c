/* What an intake hands out. */
#include "tpt-intake-private.h"
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

static void
correct_times (const TptIntakeRequest *request, TptIntake *intake)
{
  GPtrArray *frames = intake->frames;
  g_autofree TptClockFrame *clock_frames = g_new0 (TptClockFrame, frames->len + 1);

  for (guint i = 0; i < frames->len; i++)
    {
      const TptIntakeFrame *frame = g_ptr_array_index (frames, i);

      clock_frames[i].reading = frame->exif->reading;
      clock_frames[i].source = frame->exif->source;
    }

  tpt_clock_correct (&request->clock, clock_frames, frames->len, &intake->clock);
  for (guint i = 0; i < frames->len; i++)
    {
      TptIntakeFrame *frame = g_ptr_array_index (frames, i);

      frame->at = clock_frames[i].at;
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

  intake->n_triggers = tpt_trigger_group (given, frames->len, request->frames_per_trigger, request->gap_s, triggers);
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
