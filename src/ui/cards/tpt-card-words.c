#include "config.h"

#include "tpt-card-words.h"

#include <glib/gi18n-lib.h>

#include "tpt-words.h"

static char *
say_frames (gint64 n)
{
  g_autofree char *number = tpt_words_number ((double) n);

  return g_strdup_printf (ngettext ("%s frame", "%s frames", (gulong) n), number);
}

/* The station it is for, and whether that is in doubt. */
static char *
say_ready (TptCard *card)
{
  const TptSurveyMatch *match = tpt_card_get_match (card);
  gint64 n = tpt_job_survey_get_frames (tpt_card_get_survey (card));
  g_autofree char *frames = say_frames (n);

  if (n == 0)
    return g_strdup (_("No pictures on it"));
  if (match == NULL)
    return g_strdup_printf (_("%s · its deployment is to be chosen"), frames);
  if (tpt_card_is_disputed (card))
    return g_strdup_printf (_("%s · %s · records say otherwise"), frames, match->station_title);
  return g_strdup_printf (_("%s · %s"), frames, match->station_title);
}

static guint
count_damaged (TptCard *card)
{
  return tpt_job_intake_get_damaged (tpt_card_get_intake (card))->len;
}

static guint
count_set_aside (TptCard *card)
{
  return tpt_job_intake_get_unreadable (tpt_card_get_intake (card))->len;
}

/* (transfer full) (nullable): "1 picture damaged, 2 files set aside" */
static char *
say_flaws (TptCard *card)
{
  guint damaged = count_damaged (card), aside = count_set_aside (card);
  g_autofree char *pictures = g_strdup_printf (ngettext ("%u picture damaged", "%u pictures damaged", damaged), damaged);
  g_autofree char *files = g_strdup_printf (ngettext ("%u file set aside", "%u files set aside", aside), aside);

  if (damaged > 0 && aside > 0)
    return g_strdup_printf ("%s, %s", pictures, files);
  return damaged > 0 ? g_steal_pointer (&pictures) : aside > 0 ? g_steal_pointer (&files) : NULL;
}

static char *
say_taken (TptCard *card)
{
  const char *verdict = tpt_job_intake_get_safe (tpt_card_get_intake (card)) ? _("Taken in · safe to reuse")
                                                                             : _("Taken in · keep the card as it is");
  g_autofree char *flaws = say_flaws (card);

  return flaws != NULL ? g_strdup_printf ("%s · %s", verdict, flaws) : g_strdup (verdict);
}

char *
tpt_card_words_flaws (TptCard *card)
{
  guint damaged = count_damaged (card), aside = count_set_aside (card);
  g_autofree char *pictures = g_strdup_printf (ngettext ("%u picture is damaged", "%u pictures are damaged", damaged), damaged);
  g_autofree char *files = g_strdup_printf (ngettext ("%u file cannot be read", "%u files cannot be read", aside), aside);
  g_autofree char *both = NULL;

  if (damaged + aside == 0)
    return NULL;
  /* Translators: "1 picture is damaged", "2 files cannot be read". */
  both = damaged > 0 && aside > 0 ? g_strdup_printf (_("%s and %s"), pictures, files) : g_strdup (damaged > 0 ? pictures : files);
  /* Translators: the sentence begins with "1 picture is damaged and 2 files cannot be read". */
  return g_strdup_printf (_("%s on the card itself. If you want to try to rescue them, do it before the card is used again."), both);
}

char *
tpt_card_words_state (TptCard *card)
{
  TptCardState state = tpt_card_get_state (card);

  if (!tpt_card_get_there (card) && state != TPT_CARD_TAKEN)
    return g_strdup (_("Not in the reader"));
  switch (state)
    {
    case TPT_CARD_LOOKING:
      return g_strdup (_("Being looked through…"));
    case TPT_CARD_UNREAD:
      return g_strdup (_("Could not be looked through"));
    case TPT_CARD_READY:
      return say_ready (card);
    case TPT_CARD_QUEUED:
      return g_strdup (_("Waits its turn"));
    case TPT_CARD_TAKING:
      return g_strdup (_("Being taken in…"));
    case TPT_CARD_STOPPED:
      return g_strdup (_("Stopped; it can go on"));
    case TPT_CARD_TAKEN:
      return say_taken (card);
    default:
      g_return_val_if_reached (g_strdup (""));
    }
}

const char *
tpt_card_words_icon (TptCard *card)
{
  TptCardState state = tpt_card_get_state (card);

  if (state == TPT_CARD_TAKEN)
    return tpt_job_intake_get_safe (tpt_card_get_intake (card)) && count_damaged (card) + count_set_aside (card) == 0
             ? "object-select-symbolic" : "dialog-warning-symbolic";
  if (!tpt_card_get_there (card) || state == TPT_CARD_UNREAD || tpt_card_get_trouble (card) != NULL)
    return "dialog-error-symbolic";
  if (state == TPT_CARD_STOPPED)
    return "media-playback-pause-symbolic";
  return tpt_card_is_disputed (card) ? "dialog-warning-symbolic" : "media-flash-symbolic";
}

/* What a clock showed, in the words of a date; as it is when it is none. */
static char *
say_reading (const char *text)
{
  TptReading reading;

  return tpt_reading_parse (text, &reading, NULL) ? tpt_words_reading (reading, FALSE) : g_strdup (text);
}

static void
append_line (GString *text, char *line)
{
  g_string_append_printf (text, "%s%s", text->len == 0 ? "" : "\n", line);
  g_free (line);
}

static char *
say_amount (TptJobSurvey *survey)
{
  gint64 n_clips = tpt_job_survey_get_clips (survey);
  g_autofree char *frames = say_frames (tpt_job_survey_get_frames (survey));
  g_autofree char *clips = tpt_words_number ((double) n_clips);
  g_autofree char *size = g_format_size ((guint64) tpt_job_survey_get_bytes (survey));

  if (n_clips == 0)
    return g_strdup_printf (_("%s, %s."), frames, size);
  /* Translators: frames, how many of them are clips, and the size of all. */
  return g_strdup_printf (ngettext ("%s, %s of them a clip; %s.", "%s, %s of them clips; %s.", (gulong) n_clips), frames, clips, size);
}

static void
append_readings (GString *text, TptJobSurvey *survey)
{
  const char *first = tpt_job_survey_get_first_reading (survey), *last = tpt_job_survey_get_last_reading (survey);
  g_autofree char *from = first != NULL ? say_reading (first) : NULL;
  g_autofree char *to = last != NULL ? say_reading (last) : NULL;

  if (from != NULL && to != NULL)
    append_line (text, g_strdup_printf (_("From %s to %s by the camera’s own clock."), from, to));
  else
    append_line (text, g_strdup (_("No frame tells when it was taken.")));
}

/* "Maker Model, serial number 4711" */
static char *
say_camera (const TptSurveyCamera *camera)
{
  GString *text = g_string_new (camera->make);

  /* Most models have their maker's name in front. */
  if (camera->model != NULL && camera->make != NULL && g_str_has_prefix (camera->model, camera->make))
    g_string_assign (text, camera->model);
  else if (camera->model != NULL)
    g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", camera->model);
  if (text->len == 0)
    g_string_append (text, _("a camera that does not name itself"));
  if (camera->serial != NULL)
    g_string_append_printf (text, _(", serial number %s"), camera->serial);
  return g_string_free (text, FALSE);
}

static void
append_cameras (GString *text, GPtrArray *cameras)
{
  for (guint i = 0; i < cameras->len; i++)
    {
      const TptSurveyCamera *camera = cameras->pdata[i];
      g_autofree char *name = say_camera (camera);
      g_autofree char *frames = say_frames (camera->frames);

      if (cameras->len == 1)
        append_line (text, g_strdup_printf (_("Camera: %s."), name));
      else
        append_line (text, g_strdup_printf (_("Camera: %s (%s)."), name, frames));
    }
}

char *
tpt_card_words_found (TptCard *card)
{
  TptJobSurvey *survey = tpt_card_get_survey (card);
  gint64 known = tpt_job_survey_get_on_record (survey), others = tpt_job_survey_get_others (survey);
  gint64 empty = tpt_job_survey_get_empty (survey);
  GString *text = g_string_new (NULL);
  g_autofree char *blank = tpt_words_number ((double) empty);
  g_autofree char *number = tpt_words_number ((double) known), *left = tpt_words_number ((double) others);

  if (tpt_job_survey_get_frames (survey) == 0)
    append_line (text, g_strdup (_("No pictures and no clips.")));
  else
    {
      append_line (text, say_amount (survey));
      append_readings (text, survey);
      append_cameras (text, tpt_job_survey_get_cameras (survey));
    }
  if (known > 0 && known == tpt_job_survey_get_frames (survey))
    append_line (text, g_strdup (_("By name and size, all of them are on record already.")));
  else if (known > 0)
    append_line (text, g_strdup_printf (ngettext ("By name and size, %s of them is on record already.",
                                                  "By name and size, %s of them are on record already.", (gulong) known), number));
  if (empty > 0)
    append_line (text, g_strdup_printf (ngettext ("%s of these files is empty: it cannot be read, and is set aside.",
                                                  "%s of these files are empty: they cannot be read, and are set aside.", (gulong) empty), blank));
  if (others > 0)
    append_line (text, g_strdup_printf (ngettext ("%s file that is no picture stays where it is.",
                                                  "%s files that are no pictures stay where they are.", (gulong) others), left));
  return g_string_free (text, FALSE);
}

char *
tpt_card_words_match (const TptSurveyMatch *match, TptZone *zone)
{
  TptRange range = { match->start, match->end };
  g_autofree char *period = range.to != TPT_NO_INSTANT ? tpt_words_period (range, zone) : tpt_words_date (range.from, zone);

  if (range.to != TPT_NO_INSTANT)
    return g_strdup_printf ("%s, %s", match->station_title, period);
  return g_strdup_printf (_("%s, since %s"), match->station_title, period);
}

/* With its seconds where these tell before from after. */
static char *
say_moment (TptInstant at, TptZone *zone, gboolean seconds)
{
  return seconds ? tpt_words_second (at, zone) : tpt_words_instant (at, zone);
}

/* What the camera showed is said only where it is not what stands before the arrow. */
static char *
say_example (const TptClockStep *step, TptZone *zone)
{
  gboolean known = step->before != TPT_NO_INSTANT;
  gboolean seconds = known && (step->after - step->before) % TPT_MINUTE != 0;
  g_autofree char *after = say_moment (step->after, zone, seconds);
  g_autofree char *before = known ? say_moment (step->before, zone, seconds) : g_strdup (_("unknown"));
  g_autofree char *read = step->reading != NULL ? say_reading (step->reading) : NULL;

  if (read == NULL || g_str_has_prefix (before, read))
    return g_strdup_printf ("%s → %s", before, after);
  return g_strdup_printf (_("%s → %s (the camera showed %s)"), before, after, read);
}

char *
tpt_card_words_example (const TptClockStep *step, TptZone *zone)
{
  g_autofree char *number = tpt_words_number (step->frames);
  g_autofree char *example = NULL;

  if (step->after == TPT_NO_INSTANT)
    return g_strdup_printf (ngettext ("%s frame.", "%s frames.", step->frames), number);
  example = say_example (step, zone);
  /* Translators: how many frames, and a moment before and after. */
  return g_strdup_printf (ngettext ("%s frame: %s", "%s frames, the first: %s", step->frames), number, example);
}

char *
tpt_card_words_done (const TptClockStep *step, TptZone *zone)
{
  static const struct {
    const char *id, *says;
  } kinds[] = {
    { "offset", N_("Its offset was taken out.") },
    { "drift", N_("Its drift was taken out.") },
    { "reset", N_("Its reset to another date was taken out.") },
    { "hour", N_("The hours it was off were taken out.") },
  };
  g_autofree char *example = tpt_card_words_example (step, zone);

  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_str_has_prefix (step->id, kinds[i].id)) /* reset-2 is a reset too */
      return g_strdup_printf ("%s %s", _(kinds[i].says), example);
  return g_strdup_printf ("%s %s", step->says, example);
}

char *
tpt_card_words_taken (TptCard *card)
{
  TptJobIntake *job = tpt_card_get_intake (card);
  gint64 n = tpt_job_intake_get_frames (job), n_twice = tpt_job_intake_get_duplicates (job);
  g_autofree char *frames = say_frames (n), *twice = tpt_words_number ((double) n_twice);
  g_autofree char *triggers = tpt_words_number ((double) tpt_job_intake_get_triggers (job));
  GString *text = g_string_new (NULL);

  if (n == 0)
    append_line (text, g_strdup (_("There was nothing new to take in.")));
  else
    append_line (text, g_strdup_printf (ngettext ("%s in %s trigger taken in.", "%s in %s triggers taken in.",
                                                  (gulong) tpt_job_intake_get_triggers (job)), frames, triggers));
  if (tpt_job_intake_get_first (job) != TPT_NO_INSTANT)
    {
      g_autofree char *from = tpt_words_instant (tpt_job_intake_get_first (job), tpt_card_get_zone (card));
      g_autofree char *to = tpt_words_instant (tpt_job_intake_get_last (job), tpt_card_get_zone (card));
      append_line (text, g_strdup_printf (_("From %s to %s."), from, to));
    }
  if (n_twice > 0)
    append_line (text, g_strdup_printf (ngettext ("%s file is on record already and was not taken twice.",
                                                  "%s files are on record already and were not taken twice.", (gulong) n_twice), twice));
  append_line (text, g_strdup (n > 0 ? _("Every picture was copied and read back. The card itself was not touched.")
                                     : _("The card itself was not touched.")));
  return g_string_free (text, FALSE);
}
