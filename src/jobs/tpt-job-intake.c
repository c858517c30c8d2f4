#include "config.h"

#include "tpt-job-intake.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-batches.h"
#include "tpt-card-clock-private.h"
#include "tpt-card-match-private.h"
#include "tpt-card-safety-private.h"
#include "tpt-error.h"
#include "tpt-exif.h"
#include "tpt-intake-run.h"
#include "tpt-records.h"
#include "tpt-survey.h"

#define DEFAULT_PICTURES "pictures"
/* A rate measured for less time than this promises too much. */
#define TELLING_S 3.0
/* Frames asked for the camera's serial number before anything is copied. */
#define ASKED 20

struct _TptJobIntake {
  TptJob parent_instance;

  /* Input arguments */
  char *deployment;  /* (owned) */
  char *card;        /* (owned) */
  char *pictures;    /* (owned): below the project's folder */
  char *clock_read;  /* (owned) (nullable) */
  char *clock_true;  /* (owned) (nullable) */
  GStrv wanted;      /* (owned) (nullable): steps */
  gboolean repair;
  gboolean verify_only;

  /* In-progress data */
  TptStore *store;   /* (unowned) */
  GError *failure;   /* (owned) (nullable): of a question asked during the copy */
  TptRecord *record; /* (owned): the deployment */
  char *prefix;      /* (owned): folder of this card below pictures */
  TptCardRecords *records; /* (owned) */
  TptCardFacts *facts;     /* (owned) */
  gint64 begun_us;   /* monotonic */

  /* Results */
  char *batch;       /* (owned) (nullable) */
  TptIntake *intake; /* (owned) (nullable) */
  GPtrArray *unreadable, *damaged, *missing, *doubts; /* (owned) */
  GPtrArray *steps, *objections; /* (owned) */
  char *model, *serial; /* (owned) (nullable) */
  gboolean safe;
  char *why_not;     /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptJobIntake, tpt_job_intake, TPT_TYPE_JOB)

static void
free_note (gpointer data)
{
  TptIntakeNote *note = data;

  g_free (note->file);
  g_free (note->reason);
  g_free (note->kept_as);
  g_free (note);
}

static void
add_note (GPtrArray *notes, const char *file, const char *reason, const char *kept_as)
{
  TptIntakeNote *note = g_new0 (TptIntakeNote, 1);

  note->file = g_filename_display_name (file);
  note->reason = g_strdup (reason);
  note->kept_as = g_strdup (kept_as);
  g_ptr_array_add (notes, note);
}

static gboolean
is_known_cb (const char *sha256, gpointer data)
{
  TptJobIntake *self = data;

  gboolean known = FALSE;

  /* The answer cannot be an error: it is kept, and ends the run when the copy is done. */
  if (self->failure == NULL)
    tpt_store_knows_content (self->store, sha256, &known, &self->failure);
  return known;
}

/* (transfer full) (nullable): "3 min left", once that can be told. */
static char *
say_left (TptJobIntake *self, gint64 bytes_done, gint64 bytes_total)
{
  double passed_s = (double) (g_get_monotonic_time () - self->begun_us) / G_USEC_PER_SEC;
  double left_s = bytes_done > 0 ? passed_s * (double) (bytes_total - bytes_done) / (double) bytes_done : 0;
  int minutes = (int) ceil (left_s / 60);

  if (passed_s < TELLING_S || bytes_done <= 0 || bytes_done >= bytes_total)
    return NULL;
  if (left_s < 60)
    return g_strdup (_("less than a minute left"));
  if (minutes < 60)
    return g_strdup_printf (ngettext ("%d min left", "%d min left", (gulong) minutes), minutes);
  return g_strdup_printf (_("%1$d h %2$d min left"), minutes / 60, minutes % 60);
}

static void
progress_cb (guint files_done, guint files_total, gint64 bytes_done, gint64 bytes_total, const char *name, gpointer data)
{
  g_autofree char *left = say_left (data, bytes_done, bytes_total);
  g_autofree char *text = NULL;
  g_autofree char *shown = name != NULL ? g_filename_display_name (name) : g_strdup ("");

  if (left != NULL)
    text = g_strdup_printf (_("%1$u of %2$u files · %3$s · %4$s"), files_done, files_total, left, shown);
  else
    text = g_strdup_printf (_("%u of %u files · %s"), files_done, files_total, shown);
  tpt_job_report (data, bytes_total > 0 ? 0.98 * (double) bytes_done / (double) bytes_total : 0, text);
}

/* A folder name every system takes: letters, digits, dash, underscore. */
static char *
make_safe (const char *text)
{
  char *safe = g_strdup (text);

  return g_strcanon (safe, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_", '_');
}

static gboolean
refuse_pictures (TptJobIntake *self, GError **error)
{
  g_auto (GStrv) parts = g_strsplit (self->pictures, "/", -1);

  if (!g_path_is_absolute (self->pictures) && !g_strv_contains ((const char *const *) parts, "..") && *self->pictures != '\0')
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE,
               _("The pictures’ folder “%s” must be a folder below the project’s own, without “..”"), self->pictures);
  return FALSE;
}

static gboolean
fill_pair (TptJobIntake *self, TptClock *clock, GError **error)
{
  if (self->clock_read == NULL && self->clock_true == NULL)
    return TRUE;
  if (self->clock_read == NULL || self->clock_true == NULL)
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE,
                           _("A clock correction needs both what the camera showed and the true time"));
      return FALSE;
    }
  clock->has_pair = tpt_reading_parse (self->clock_read, &clock->read, error);
  if (clock->has_pair)
    {
      clock->true_at = tpt_instant_parse (self->clock_true, clock->zone, error);
      clock->has_pair = clock->true_at != TPT_NO_INSTANT;
    }
  if (!clock->has_pair && error != NULL && *error != NULL)
    (*error)->code = TPT_ERROR_USAGE; /* the request, not the card */
  return clock->has_pair;
}

static gboolean
prepare (TptJobIntake *self, TptStore *store, GError **error)
{
  g_autofree char *safe = NULL;
  GError *failure = NULL;

  if (!refuse_pictures (self, error))
    return FALSE;
  self->store = store;
  self->record = tpt_store_find (store, TPT_TABLE_DEPLOYMENTS, self->deployment, &failure);
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  if (self->record == NULL)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("There is no deployment “%s” in this project"), self->deployment);
      return FALSE;
    }
  safe = make_safe (self->deployment);
  self->prefix = g_steal_pointer (&safe);
  return TRUE;
}

/* (transfer full) (nullable): of the camera, from the first frames. */
static char *
peek_serial (TptJobIntake *self, GCancellable *cancellable)
{
  g_autoptr (TptScan) scan = tpt_scan_card (self->card, cancellable, NULL);
  char *serial = NULL;

  for (guint i = 0; scan != NULL && serial == NULL && i < MIN (scan->frames->len, ASKED); i++)
    {
      const TptScanFile *file = scan->frames->pdata[i];
      g_autofree char *path = g_build_filename (self->card, file->path, NULL);
      TptExif *exif = file->kind != TPT_SCAN_CLIP ? tpt_exif_read (path, TPT_NO_INSTANT, NULL) : NULL;

      if (exif != NULL)
        serial = g_strdup (exif->serial);
      tpt_exif_free (exif);
    }
  return serial;
}

static gboolean
read_facts (TptJobIntake *self, GCancellable *cancellable, GError **error)
{
  g_autofree char *serial = NULL;

  tpt_exif_init ();
  serial = peek_serial (self, cancellable);
  self->records = tpt_card_records_new (self->store, error);
  if (self->records == NULL)
    return FALSE;
  self->facts = tpt_card_facts_new (self->records, self->record, serial);
  return TRUE;
}

static TptIntake *
copy_card (TptJobIntake *self, GCancellable *cancellable, GError **error)
{
  g_autofree char *destination = g_build_filename (tpt_store_get_folder (self->store), self->pictures, NULL);
  TptClockKnown known;
  TptIntakeRequest request = {
    .card = self->card,
    .destination = destination,
    .prefix = self->prefix,
    .known = &known,
    .steps = (const char *const *) self->wanted,
    .repair = self->repair,
    .frames_per_trigger = (int) tpt_record_get_integer (self->record, "frames_per_trigger", 0),
    .verify_only = self->verify_only,
    .is_known = is_known_cb,
    .is_known_data = self,
    .progress = progress_cb,
    .progress_data = self,
  };

  tpt_card_facts_fill_known (self->facts, &known);
  request.clock = known.clock;
  if (!fill_pair (self, &request.clock, error))
    return NULL;
  self->begun_us = g_get_monotonic_time ();
  return tpt_intake_run (&request, cancellable, error);
}

/* Pictures are found from the project file's folder. */
static char *
path_from_project (TptJobIntake *self, const char *file)
{
  return file != NULL ? g_strconcat (self->pictures, "/", file, NULL) : NULL;
}

static void
collect_notes (TptJobIntake *self)
{
  for (guint i = 0; i < self->intake->unreadable->len; i++)
    {
      TptIntakeTrouble *trouble = self->intake->unreadable->pdata[i];
      g_autofree char *kept = path_from_project (self, trouble->kept);

      add_note (self->unreadable, trouble->source, trouble->reason, kept);
    }
  for (guint i = 0; i < self->intake->damaged->len; i++)
    {
      TptIntakeFrame *frame = self->intake->damaged->pdata[i];
      g_autofree char *kept = path_from_project (self, frame->file);

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

static const char *
name_kind (TptScanKind kind)
{
  return kind == TPT_SCAN_JPEG ? "jpeg" : kind == TPT_SCAN_RAW ? "raw" : kind == TPT_SCAN_CLIP ? "clip" : NULL;
}

static TptFrameFacts
get_facts (const TptIntakeFrame *frame)
{
  return (TptFrameFacts){ .place = (int) frame->place,
                          .kind = name_kind (frame->kind),
                          .temperature_c = frame->exif->temperature_c,
                          .flash = frame->exif->flash,
                          .sequence = frame->exif->sequence };
}

static void
fill_frames (TptJobIntake *self, TptNewFrame *frames, TptFrameFacts *facts, GPtrArray *strings)
{
  for (guint i = 0; i < self->intake->frames->len; i++)
    {
      TptIntakeFrame *frame = self->intake->frames->pdata[i];
      char *file = path_from_project (self, frame->file);
      char *time = frame->exif->source != TPT_TIME_NONE ? tpt_reading_format (frame->exif->reading) : NULL;

      g_ptr_array_add (strings, file);
      g_ptr_array_add (strings, time);
      facts[i] = get_facts (frame);
      frames[i] = (TptNewFrame){
        .file = file,
        .camera_time = time,
        .time_source = tpt_time_source_to_string (frame->exif->source),
        .at = frame->at,
        .sha256 = frame->sha256,
        .bytes = frame->bytes,
        .damage = frame->damage,
        .trigger = frame->at != TPT_NO_INSTANT ? (int) frame->trigger : -1,
        .facts = &facts[i],
      };
    }
}

/* The pair that the times on record rest on: somebody's for this card, or a visit's. */
static void
fill_clock (TptJobIntake *self, TptNewBatch *batch)
{
  TptZone *zone = tpt_store_get_zone (self->store);
  guint pair;

  batch->clock_true = TPT_NO_INSTANT;
  batch->clock_offset_s = tpt_job_intake_get_clock_offset (self);
  if (self->clock_read != NULL)
    {
      batch->clock_read = self->clock_read;
      batch->clock_true = tpt_instant_parse (self->clock_true, zone, NULL);
    }
  else if (*self->intake->steps != NULL && tpt_clock_plan_uses_pair (self->intake->plan, &pair))
    {
      batch->clock_read = self->facts->reads->pdata[pair];
      batch->clock_true = g_array_index (self->facts->pairs, TptClockPair, pair).true_at;
    }
}

static gboolean
record_batch (TptJobIntake *self, GError **error)
{
  guint n = self->intake->frames->len, n_aside = self->unreadable->len;
  g_autofree TptNewFrame *frames = g_new0 (TptNewFrame, n);
  g_autofree TptFrameFacts *facts = g_new0 (TptFrameFacts, n);
  g_autoptr (TptCardPieces) pieces =
    tpt_card_pieces_new (self->intake->plan, (const char *const *) self->intake->steps, self->intake->sights);
  g_autofree TptNewSetAside *aside = g_new0 (TptNewSetAside, n_aside);
  g_autoptr (GPtrArray) strings = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *source = g_path_get_basename (self->card);
  g_autofree char *shown = g_filename_display_name (source);
  g_autofree char *folder = path_from_project (self, self->prefix);
  g_autofree char *code = NULL;
  g_autofree char *what = g_strdup_printf (_("Take in %u frames of %s"), n, self->deployment);
  g_autoptr (TptAction) action = NULL;
  TptNewBatch batch = {
    .deployment_id = tpt_record_get_id (self->record),
    .source = shown,
    .folder = folder,
    .duplicates = (int) self->intake->duplicates->len,
    .frames = frames,
    .n_frames = n,
    .set_aside = aside,
    .n_set_aside = n_aside,
    .camera_model = self->model,
    .camera_serial = self->serial,
    .pieces = (const TptClockPiece *) (gpointer) pieces->pieces->data,
    .n_pieces = pieces->pieces->len,
  };

  fill_clock (self, &batch);
  fill_frames (self, frames, facts, strings);
  for (guint i = 0; i < n_aside; i++)
    {
      TptIntakeNote *note = self->unreadable->pdata[i];
      aside[i] = (TptNewSetAside){ note->file, note->reason, note->kept_as };
    }

  /* Inside the action, so that a card taken in beside this one gets another. */
  action = tpt_action_begin (self->store, what, error);
  batch.batch = code = action != NULL ? tpt_store_make_batch_code (self->store, self->deployment, error) : NULL;
  if (code == NULL || !tpt_store_add_batch (self->store, &batch, error) || !tpt_action_commit (action, error))
    return FALSE;
  self->batch = g_steal_pointer (&code);
  return TRUE;
}

/* A second run over the same card finds every frame on record and its
 * unreadable files set aside already: nothing to add. */
static gboolean
has_news (TptJobIntake *self, gboolean *news, GError **error)
{
  *news = self->intake->frames->len > 0;
  for (guint i = 0; !*news && i < self->unreadable->len; i++)
    {
      TptIntakeNote *note = self->unreadable->pdata[i];
      gboolean known;

      if (!tpt_store_has_set_aside (self->store, tpt_record_get_id (self->record), note->file, &known, error))
        return FALSE;
      *news = !known;
    }
  return TRUE;
}

static gboolean
take_in (TptJobIntake *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  gboolean news;

  if (!prepare (self, store, error) || !read_facts (self, cancellable, error))
    return FALSE;
  self->intake = copy_card (self, cancellable, error);
  if (self->intake == NULL)
    return FALSE;
  if (self->failure != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&self->failure));
      return FALSE;
    }
  collect_notes (self);
  collect_doubts (self);
  collect_judgement (self);
  /* Before the batch goes on record: afterwards nothing may fail any more. */
  if (!tpt_card_check_safe (store, self->intake, &self->why_not, cancellable, error))
    return FALSE;
  if (!self->verify_only && (!has_news (self, &news, error) || (news && !record_batch (self, error))))
    return FALSE;
  self->safe = self->why_not == NULL;
  return TRUE;
}

static gboolean
tpt_job_intake_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobIntake *self = TPT_JOB_INTAKE (job);
  gboolean good = take_in (self, store, cancellable, error);

  self->store = NULL;
  g_clear_error (&self->failure);
  g_clear_object (&self->record);
  g_clear_pointer (&self->prefix, g_free);
  g_clear_pointer (&self->facts, tpt_card_facts_free);
  g_clear_pointer (&self->records, tpt_card_records_free);
  if (good)
    tpt_job_report (job, 1, _("Done"));
  return good;
}

static void
tpt_job_intake_dispose (GObject *object)
{
  TptJobIntake *self = TPT_JOB_INTAKE (object);

  g_assert (self->store == NULL && self->record == NULL && self->prefix == NULL);
  g_clear_pointer (&self->deployment, g_free);
  g_clear_pointer (&self->card, g_free);
  g_clear_pointer (&self->pictures, g_free);
  g_clear_pointer (&self->clock_read, g_free);
  g_clear_pointer (&self->clock_true, g_free);
  g_clear_pointer (&self->wanted, g_strfreev);
  g_clear_pointer (&self->batch, g_free);
  g_clear_pointer (&self->model, g_free);
  g_clear_pointer (&self->serial, g_free);
  g_clear_pointer (&self->why_not, g_free);
  g_clear_pointer (&self->steps, g_ptr_array_unref);
  g_clear_pointer (&self->objections, g_ptr_array_unref);
  g_clear_pointer (&self->intake, tpt_intake_free);
  g_clear_pointer (&self->unreadable, g_ptr_array_unref);
  g_clear_pointer (&self->damaged, g_ptr_array_unref);
  g_clear_pointer (&self->missing, g_ptr_array_unref);
  g_clear_pointer (&self->doubts, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_intake_parent_class)->dispose (object);
}

static void
tpt_job_intake_class_init (TptJobIntakeClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_intake_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_intake_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
  TPT_JOB_CLASS (klass)->lengthy = TRUE;
}

static void
tpt_job_intake_init (TptJobIntake *self)
{
  self->pictures = g_strdup (DEFAULT_PICTURES);
  self->unreadable = g_ptr_array_new_with_free_func (free_note);
  self->damaged = g_ptr_array_new_with_free_func (free_note);
  self->missing = g_ptr_array_new_with_free_func (free_note);
  self->doubts = g_ptr_array_new_with_free_func (g_free);
  self->objections = g_ptr_array_new_with_free_func (g_free);
  self->steps = g_ptr_array_new ();
}

TptJobIntake *
tpt_job_intake_new (const char *deployment, const char *card)
{
  TptJobIntake *self = g_object_new (TPT_TYPE_JOB_INTAKE, NULL);

  self->deployment = g_strdup (deployment);
  self->card = g_canonicalize_filename (card, NULL);
  return self;
}

void
tpt_job_intake_set_pictures (TptJobIntake *self, const char *pictures)
{
  g_free (self->pictures);
  self->pictures = g_strdup (pictures);
}

void
tpt_job_intake_set_clock (TptJobIntake *self, const char *read, const char *true_time)
{
  g_free (self->clock_read);
  g_free (self->clock_true);
  self->clock_read = g_strdup (read);
  self->clock_true = g_strdup (true_time);
}

void
tpt_job_intake_set_verify_only (TptJobIntake *self, gboolean verify_only)
{
  self->verify_only = verify_only;
}

void
tpt_job_intake_set_steps (TptJobIntake *self, const char *const *ids)
{
  g_strfreev (self->wanted);
  self->wanted = g_strdupv ((char **) ids);
}

void
tpt_job_intake_set_repair (TptJobIntake *self, gboolean repair)
{
  self->repair = repair;
}

const char *
tpt_job_intake_get_batch (TptJobIntake *self)
{
  return self->batch;
}

gint64
tpt_job_intake_get_frames (TptJobIntake *self)
{
  return self->intake != NULL ? self->intake->frames->len : 0;
}

gint64
tpt_job_intake_get_triggers (TptJobIntake *self)
{
  return self->intake != NULL ? self->intake->n_triggers : 0;
}

gint64
tpt_job_intake_get_duplicates (TptJobIntake *self)
{
  return self->intake != NULL ? self->intake->duplicates->len : 0;
}

gint64
tpt_job_intake_get_bytes (TptJobIntake *self)
{
  return self->intake != NULL ? self->intake->bytes : 0;
}

double
tpt_job_intake_get_clock_offset (TptJobIntake *self)
{
  const TptIntake *intake = self->intake;

  if (intake == NULL)
    return NAN;
  return self->clock_read != NULL || *intake->steps != NULL ? intake->clock.clock_offset_s : 0;
}

TptInstant
tpt_job_intake_get_first (TptJobIntake *self)
{
  return self->intake != NULL ? self->intake->first : TPT_NO_INSTANT;
}

TptInstant
tpt_job_intake_get_last (TptJobIntake *self)
{
  return self->intake != NULL ? self->intake->last : TPT_NO_INSTANT;
}

GPtrArray *
tpt_job_intake_get_unreadable (TptJobIntake *self)
{
  return self->unreadable;
}

GPtrArray *
tpt_job_intake_get_damaged (TptJobIntake *self)
{
  return self->damaged;
}

GPtrArray *
tpt_job_intake_get_missing (TptJobIntake *self)
{
  return self->missing;
}

GPtrArray *
tpt_job_intake_get_doubts (TptJobIntake *self)
{
  return self->doubts;
}

GPtrArray *
tpt_job_intake_get_steps (TptJobIntake *self)
{
  return self->steps;
}

GPtrArray *
tpt_job_intake_get_objections (TptJobIntake *self)
{
  return self->objections;
}

const char *
tpt_job_intake_get_camera_model (TptJobIntake *self)
{
  return self->model;
}

const char *
tpt_job_intake_get_camera_serial (TptJobIntake *self)
{
  return self->serial;
}

gboolean
tpt_job_intake_get_safe (TptJobIntake *self)
{
  return self->safe;
}

const char *
tpt_job_intake_get_why_not (TptJobIntake *self)
{
  return self->why_not;
}
