/* What taking in a card came to, in words. */
#include "config.h"

#include "tpt-job-intake-private.h"

#include <glib/gi18n-lib.h>

#include "tpt-card-clock-private.h"
#include "tpt-survey.h"

static void
add_note (GPtrArray *notes, const char *file, const char *reason, const char *kept_as)
{
  TptIntakeNote *note = g_new0 (TptIntakeNote, 1);

  note->file = g_filename_display_name (file);
  note->reason = g_strdup (reason);
  note->kept_as = g_strdup (kept_as);
  g_ptr_array_add (notes, note);
}

char *
tpt_job_intake_get_path (TptJobIntake *self, const char *file)
{
  return file != NULL ? g_strconcat (self->pictures, "/", file, NULL) : NULL;
}

static void
collect_notes (TptJobIntake *self)
{
  for (guint i = 0; i < self->intake->unreadable->len; i++)
    {
      TptIntakeTrouble *trouble = self->intake->unreadable->pdata[i];
      g_autofree char *kept = tpt_job_intake_get_path (self, trouble->kept);

      add_note (self->unreadable, trouble->source, trouble->reason, kept);
    }
  for (guint i = 0; i < self->intake->damaged->len; i++)
    {
      TptIntakeFrame *frame = self->intake->damaged->pdata[i];
      g_autofree char *kept = tpt_job_intake_get_path (self, frame->file);

      add_note (self->damaged, frame->source, frame->damage, kept);
    }
  for (guint i = 0; i < self->intake->missing->len; i++)
    {
      TptIntakeTrouble *trouble = self->intake->missing->pdata[i];

      add_note (self->missing, trouble->source, trouble->reason, NULL);
    }
}

static void
collect_doubts (TptJobIntake *self)
{
  static const struct {
    TptClockDoubt doubt;
    const char *says;
  } doubts[] = {
    { TPT_DOUBT_FILE_TIME, N_("have no date of their own; the file’s date was taken") },
    { TPT_DOUBT_BEFORE_START, N_("lie before the deployment’s start") },
    { TPT_DOUBT_AFTER_END, N_("lie after the deployment’s end") },
    { TPT_DOUBT_FUTURE, N_("lie in the future") },
    { TPT_DOUBT_FACTORY, N_("carry a date such as a camera has after a reset") },
    { TPT_DOUBT_BACKWARDS, N_("go back in time against the order of the files") },
    { TPT_DOUBT_ZONE, N_("tell another zone than the project’s") },
  };
  guint total = self->intake->frames->len;

  for (gsize d = 0; d < G_N_ELEMENTS (doubts); d++)
    {
      guint n = 0;

      for (guint i = 0; i < total; i++)
        n += (((TptIntakeFrame *) self->intake->frames->pdata[i])->doubts & doubts[d].doubt) != 0;
      if (n > 0)
        g_ptr_array_add (self->doubts, g_strdup_printf (_("%u of %u frames %s"), n, total, _(doubts[d].says)));
    }
}

static void
collect_camera (TptJobIntake *self, GPtrArray *bodies)
{
  const TptSurveyBody *body = bodies->len > 0 ? bodies->pdata[0] : NULL;

  if (body == NULL)
    return;
  self->model = g_strdup (body->model);
  self->serial = g_strdup (body->serial);
}

static GPtrArray *
count_bodies (const TptIntake *intake)
{
  g_autoptr (GPtrArray) exifs = g_ptr_array_new ();

  for (guint i = 0; i < intake->frames->len; i++)
    g_ptr_array_add (exifs, ((TptIntakeFrame *) intake->frames->pdata[i])->exif);
  return tpt_survey_count_bodies (exifs);
}

static void
move_words (GPtrArray *from, GPtrArray *to)
{
  for (guint i = 0; i < from->len; i++)
    g_ptr_array_add (to, g_strdup (from->pdata[i]));
}

static void
add_done (TptJobIntake *self, GPtrArray *steps)
{
  for (guint i = steps->len; i-- > 0;)
    if (!g_strv_contains ((const char *const *) self->intake->steps, ((TptClockStep *) steps->pdata[i])->id))
      g_ptr_array_remove_index (steps, i);
  g_ptr_array_unref (self->steps);
  self->steps = g_ptr_array_ref (steps);
}

/* What the records say to the card, and what was done about its clock. */
static void
collect_judgement (TptJobIntake *self)
{
  const TptIntake *intake = self->intake;
  const char *const *ids = (const char *const *) intake->steps;
  g_autoptr (GPtrArray) bodies = count_bodies (intake);
  TptCardView view = { bodies, intake->sights, intake->frames->len,
                       intake->frames->len + intake->duplicates->len + intake->unreadable->len };
  TptSurveyMatch *match;

  collect_camera (self, bodies);
  if (view.n == 0)
    return;
  match = tpt_card_match_new (self->records, self->facts, &view);
  tpt_card_match_judge (match, self->facts, &view, intake->plan, ids);
  move_words (match->objections, self->objections);
  move_words (match->doubts, self->doubts);
  add_done (self, match->steps);
  tpt_survey_match_free (match);
  tpt_card_say_not_done (intake->plan, ids, self->doubts);
}

void
tpt_job_intake_tell (TptJobIntake *self)
{
  collect_notes (self);
  collect_doubts (self);
  collect_judgement (self);
}
