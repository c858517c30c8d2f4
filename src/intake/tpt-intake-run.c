#include "config.h"

#include "tpt-intake-run.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <string.h>
#include <sys/stat.h>

#include "tpt-copy-private.h"
#include "tpt-error.h"
#include "tpt-intake-judge.h"
#include "tpt-intake-place.h"
#include "tpt-intake-verifier.h"
#include "tpt-trigger.h"

/* One file that cannot be read is a bad spot; so many in a row are a card that is gone. */
#define MOST_FAILURES 3

typedef struct {
  const TptIntakeRequest *request;  /* (unowned) */
  GCancellable *cancellable;        /* (unowned) (nullable) */
  TptScan *scan;                    /* (unowned) */
  TptIntakePlaces *places;          /* (unowned) */
  TptIntakeVerifier *verifier;      /* (unowned) (nullable): NULL when only verifying */
  TptIntake *intake;                /* (unowned) */
  GHashTable *by_content;           /* (unowned): sha256 of a frame to its source */
  guint files_done;
  guint failures;                   /* in a row */
  gint64 bytes_done;
} Run;

/* One file on its way. */
typedef struct {
  Run *run;
  const TptScanFile *file;  /* (unowned) */
  char *path;               /* (owned): on the card */
  TptIntakeJudge judge;
  TptCopy *copy;            /* (owned) (nullable): NULL when only hashed */
  char sha256[TPT_SHA256_SIZE];
  gint64 bytes;
} Item;

static void
clear_item (Item *item)
{
  g_free (item->path);
  tpt_intake_judge_clear (&item->judge);
  g_clear_pointer (&item->copy, tpt_copy_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Item, clear_item)

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

static TptIntake *
new_intake (void)
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

static void
add_trouble (GPtrArray *list, const char *source, const char *reason, const char *kept)
{
  TptIntakeTrouble *trouble = g_new0 (TptIntakeTrouble, 1);

  trouble->source = g_strdup (source);
  trouble->reason = g_strdup (reason);
  trouble->kept = g_strdup (kept);
  g_ptr_array_add (list, trouble);
}

static void
add_duplicate (Run *run, const Item *item, const char *of)
{
  TptIntakeDuplicate *duplicate = g_new0 (TptIntakeDuplicate, 1);

  duplicate->source = g_strdup (item->file->path);
  duplicate->of = g_strdup (of);
  duplicate->bytes = item->bytes;
  g_strlcpy (duplicate->sha256, item->sha256, sizeof duplicate->sha256);
  g_ptr_array_add (run->intake->duplicates, duplicate);
}

static void
add_frame (Run *run, const Item *item, TptIntakeVerdict *verdict, const char *file, gboolean was_there)
{
  TptIntakeFrame *frame = g_new0 (TptIntakeFrame, 1);

  frame->source = g_strdup (item->file->path);
  frame->file = g_strdup (file);
  frame->bytes = item->bytes;
  frame->kind = verdict->kind;
  frame->exif = g_steal_pointer (&verdict->exif);
  frame->damage = g_steal_pointer (&verdict->damage);
  frame->was_there = was_there;
  g_strlcpy (frame->sha256, item->sha256, sizeof frame->sha256);

  run->intake->bytes += frame->bytes;
  g_ptr_array_add (run->intake->frames, frame);
  g_hash_table_insert (run->by_content, frame->sha256, frame->source);
}

static void
report_progress (Run *run, const char *name)
{
  const TptIntakeRequest *request = run->request;

  if (request->progress != NULL)
    request->progress (run->files_done, run->scan->frames->len, run->bytes_done, run->scan->bytes, name,
                       request->progress_data);
}

static void
tap_cb (const guint8 *data, gsize length, gpointer user_data)
{
  Item *item = user_data;

  tpt_intake_judge_feed (&item->judge, data, length);
  item->run->bytes_done += length;
  report_progress (item->run, item->file->path);
}

static void
restart_judge (Item *item)
{
  tpt_intake_judge_clear (&item->judge);
  tpt_intake_judge_init (&item->judge);
}

static gboolean
begin_copy (Item *item, gboolean *source_failed, GError **error)
{
  Run *run = item->run;

  restart_judge (item);
  item->copy = tpt_copy_begin (item->path, run->request->destination, tap_cb, item, run->cancellable,
                               source_failed, error);
  if (item->copy == NULL)
    return FALSE;
  item->bytes = tpt_copy_get_bytes (item->copy);
  g_strlcpy (item->sha256, tpt_copy_get_sha256 (item->copy), sizeof item->sha256);
  return TRUE;
}

static gboolean
hash_only (Item *item, gboolean *source_failed, GError **error)
{
  restart_judge (item);
  *source_failed = !tpt_copy_hash (item->path, item->run->request->verify_only, tap_cb, item, item->sha256,
                                   &item->bytes, item->run->cancellable, error);
  return !*source_failed;
}

/* Reads the file once; writes it to a temporary place unless its content may
 * be at the destination already. */
static gboolean
read_item (Item *item, gboolean *source_failed, GError **error)
{
  Run *run = item->run;

  if (run->request->verify_only ||
      tpt_intake_places_may_have (run->places, item->file->path, item->file->bytes))
    return hash_only (item, source_failed, error);
  return begin_copy (item, source_failed, error);
}

static gboolean
is_duplicate (Run *run, const Item *item)
{
  const TptIntakeRequest *request = run->request;
  const char *of = g_hash_table_lookup (run->by_content, item->sha256);

  if (of == NULL && (request->verify_only || request->is_known == NULL ||
                     !request->is_known (item->sha256, request->is_known_data)))
    return FALSE;
  add_duplicate (run, item, of);
  return TRUE;
}

/* The name is taken by something else after all, so the file has to be written. */
static gboolean
read_again (Item *item, GError **error)
{
  g_autofree char *before = g_strdup (item->sha256);

  item->run->bytes_done -= item->bytes;
  if (!begin_copy (item, NULL, error))
    return FALSE;
  if (g_str_equal (before, item->sha256))
    return TRUE;
  return tpt_copy_fail (error, _("“%s” reads differently each time; the card is failing"), item->path, EIO);
}

static void
record (Run *run, const Item *item, TptIntakeVerdict *verdict, const char *file, gboolean was_there)
{
  tpt_intake_places_take (run->places, file);
  if (verdict->unreadable != NULL)
    add_trouble (run->intake->unreadable, item->file->path, verdict->unreadable, file);
  else
    add_frame (run, item, verdict, file, was_there);
}

static gboolean
send_to_verifier (Item *item, const char *file, GError **error)
{
  Run *run = item->run;
  g_autofree char *path = tpt_intake_places_get_path (run->places, file);

  if (!tpt_intake_places_make_folders (run->places, file, error))
    return FALSE;
  run->intake->n_copied++;
  return tpt_intake_verifier_push (run->verifier, g_steal_pointer (&item->copy), path, error);
}

/* The content as a path to read metadata from: never the card's own file,
 * whose access time might change. */
static char *
get_readable_path (const Item *item, const char *file)
{
  return item->copy != NULL ? g_strdup (tpt_copy_get_path (item->copy))
                            : tpt_intake_places_get_path (item->run->places, file);
}

static gboolean
store_copy (Item *item, GError **error)
{
  Run *run = item->run;
  g_auto (TptIntakeVerdict) verdict = { 0 };
  g_autofree char *file = NULL;
  TptIntakePlace place;

  tpt_intake_judge_decide (&item->judge, tpt_copy_get_path (item->copy), item->file, &verdict);
  place = tpt_intake_places_find (run->places, item->file->path, verdict.unreadable != NULL, item->sha256,
                                  item->bytes, &file, run->cancellable, error);
  if (place == TPT_PLACE_FAILED)
    return FALSE;
  if (place == TPT_PLACE_FREE && !send_to_verifier (item, file, error))
    return FALSE;

  record (run, item, &verdict, file, place == TPT_PLACE_SAME);
  return item->copy == NULL || tpt_copy_discard (g_steal_pointer (&item->copy), error);
}

/* Where the content is among the frames or the unreadable of an earlier run.
 * %TPT_PLACE_FREE: nowhere. */
static TptIntakePlace
find_earlier (const Item *item, char **file, GError **error)
{
  Run *run = item->run;
  TptIntakePlace place = TPT_PLACE_FREE;

  for (int aside = 0; aside < 2 && place == TPT_PLACE_FREE; aside++)
    {
      g_clear_pointer (file, g_free);
      place = tpt_intake_places_find (run->places, item->file->path, aside, item->sha256, item->bytes, file,
                                      run->cancellable, error);
    }
  return place;
}

static void
record_earlier (Item *item, const char *file)
{
  g_auto (TptIntakeVerdict) verdict = { 0 };
  g_autofree char *path = get_readable_path (item, file);

  tpt_intake_judge_decide (&item->judge, path, item->file, &verdict);
  record (item->run, item, &verdict, file, TRUE);
}

static gboolean
store_hashed (Item *item, GError **error)
{
  g_autofree char *file = NULL;

  switch (find_earlier (item, &file, error))
    {
    case TPT_PLACE_SAME:
      record_earlier (item, file);
      return TRUE;
    case TPT_PLACE_FREE:
      if (!item->run->request->verify_only)
        return read_again (item, error) && store_copy (item, error);
      add_trouble (item->run->intake->missing, item->file->path,
                   _("The pictures' folder has no file of this name and content"), NULL);
      return TRUE;
    case TPT_PLACE_FAILED:
    default:
      return FALSE;
    }
}

static gboolean
store_item (Item *item, GError **error)
{
  if (!is_duplicate (item->run, item))
    return item->copy != NULL ? store_copy (item, error) : store_hashed (item, error);
  return item->copy == NULL || tpt_copy_discard (g_steal_pointer (&item->copy), error);
}

static gboolean
is_card_there (Run *run)
{
  return run->failures < MOST_FAILURES && g_file_test (run->request->card, G_FILE_TEST_IS_DIR);
}

/* A spot on the card that cannot be read costs one file; anything else stops
 * the run. Takes @cause. */
static gboolean
bear_failure (Item *item, gboolean source_failed, GError *cause, GError **error)
{
  Run *run = item->run;

  run->failures++;
  if (!source_failed || !g_error_matches (cause, TPT_ERROR, TPT_ERROR_IO) || !is_card_there (run))
    {
      g_propagate_error (error, cause);
      return FALSE;
    }
  add_trouble (run->intake->unreadable, item->file->path, cause->message, NULL);
  g_error_free (cause);
  return TRUE;
}

static gboolean
take_file (Run *run, const TptScanFile *file, GError **error)
{
  g_auto (Item) item = { .run = run, .file = file };
  gint64 bytes_before = run->bytes_done;
  gboolean source_failed = FALSE;
  GError *cause = NULL;

  report_progress (run, file->path);
  if (g_cancellable_set_error_if_cancelled (run->cancellable, error))
    return FALSE;

  item.path = g_build_filename (run->request->card, file->path, NULL);
  if (read_item (&item, &source_failed, &cause))
    {
      run->failures = 0;
      if (!store_item (&item, error))
        return FALSE;
    }
  else if (!bear_failure (&item, source_failed, cause, error))
    return FALSE;

  run->files_done++;
  run->bytes_done = bytes_before + file->bytes;
  return TRUE;
}

static gboolean
take_files (Run *run, GError **error)
{
  for (guint i = 0; i < run->scan->frames->len; i++)
    if (!take_file (run, g_ptr_array_index (run->scan->frames, i), error))
      return FALSE;
  report_progress (run, NULL);
  return TRUE;
}

/* What could not even be listed may hide frames. */
static void
take_others (Run *run)
{
  for (guint i = 0; i < run->scan->others->len; i++)
    {
      const TptScanFile *file = g_ptr_array_index (run->scan->others, i);

      if (file->failed)
        add_trouble (run->intake->unreadable, file->path, file->why, NULL);
    }
  run->intake->others = g_ptr_array_ref (run->scan->others);
}

static void
correct_times (Run *run)
{
  GPtrArray *frames = run->intake->frames;
  g_autofree TptClockFrame *clock_frames = g_new0 (TptClockFrame, frames->len + 1);

  for (guint i = 0; i < frames->len; i++)
    {
      const TptIntakeFrame *frame = g_ptr_array_index (frames, i);

      clock_frames[i].reading = frame->exif->reading;
      clock_frames[i].source = frame->exif->source;
    }

  tpt_clock_correct (&run->request->clock, clock_frames, frames->len, &run->intake->clock);
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
group_triggers (Run *run)
{
  GPtrArray *frames = run->intake->frames;
  g_autofree TptTriggerFrame *given = g_new0 (TptTriggerFrame, frames->len + 1);
  g_autofree guint *triggers = g_new0 (guint, frames->len + 1);

  for (guint i = 0; i < frames->len; i++)
    {
      const TptIntakeFrame *frame = g_ptr_array_index (frames, i);

      given[i].at = frame->at;
      given[i].sequence = frame->exif->sequence;
    }

  run->intake->n_triggers = tpt_trigger_group (given, frames->len, run->request->frames_per_trigger,
                                               run->request->gap_s, triggers);
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

static void
make_records (Run *run)
{
  correct_times (run);
  g_ptr_array_sort (run->intake->frames, compare_frames_cb);
  group_triggers (run);
  sum_up (run->intake);
}

static gboolean
check_prefix (const char *prefix, GError **error)
{
  g_auto (GStrv) parts = g_strsplit (prefix, "/", -1);
  gboolean good = g_utf8_validate (prefix, -1, NULL);

  for (guint i = 0; *prefix != '\0' && good && parts[i] != NULL; i++)
    good = *parts[i] != '\0' && !g_str_equal (parts[i], ".") && !g_str_equal (parts[i], "..");
  if (!good)
    g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("“%s” is not a folder below the pictures' folder"), prefix);
  return good;
}

/* The destination, or the nearest folder above it that exists. */
static char *
find_existing (const char *path)
{
  g_autofree char *at = g_strdup (path);

  while (!g_file_test (at, G_FILE_TEST_EXISTS) && !g_str_equal (at, "/"))
    {
      char *parent = g_path_get_dirname (at);

      g_free (at);
      at = parent;
    }
  return realpath (at, NULL);
}

static gboolean
is_inside (const char *path, const char *folder)
{
  gsize n = strlen (folder);

  return strncmp (path, folder, n) == 0 && (path[n] == '\0' || path[n] == '/' || g_str_equal (folder, "/"));
}

static gboolean
check_request (const TptIntakeRequest *request, GError **error)
{
  g_autofree char *card = realpath (request->card, NULL);
  g_autofree char *destination = NULL;

  if (!g_path_is_absolute (request->destination))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("The pictures' folder “%s” is not an absolute path"),
                   request->destination);
      return FALSE;
    }
  if (!check_prefix (request->prefix, error))
    return FALSE;

  destination = find_existing (request->destination);
  if (card != NULL && destination != NULL && is_inside (destination, card))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE,
                   _("The pictures' folder “%s” lies on the card; nothing is ever written to a card"),
                   request->destination);
      return FALSE;
    }
  return TRUE;
}

static gboolean
prepare_destination (Run *run, GError **error)
{
  const char *destination = run->request->destination;
  gint64 needed = 0;

  for (guint i = 0; i < run->scan->frames->len; i++)
    {
      const TptScanFile *file = g_ptr_array_index (run->scan->frames, i);

      if (!tpt_intake_places_may_have (run->places, file->path, file->bytes))
        needed += file->bytes;
    }
  return tpt_intake_places_make_folders (run->places, "x", error) && tpt_copy_clean (destination, NULL, error) &&
         tpt_copy_check_space (destination, needed, error);
}

static gboolean
copy_all (Run *run, GError **error)
{
  g_autoptr (TptIntakeVerifier) verifier = NULL;

  if (!prepare_destination (run, error))
    return FALSE;
  verifier = tpt_intake_verifier_new (run->cancellable);
  run->verifier = verifier;
  return take_files (run, error) && tpt_intake_verifier_finish (g_steal_pointer (&verifier), error) &&
         tpt_intake_places_sync (run->places, error);
}

TptIntake *
tpt_intake_run (const TptIntakeRequest *request, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptIntake) intake = new_intake ();
  g_autoptr (GHashTable) by_content = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (TptIntakePlaces) places = NULL;
  g_autoptr (TptScan) scan = NULL;
  Run run = { .request = request, .cancellable = cancellable, .intake = intake, .by_content = by_content };

  g_return_val_if_fail (request->card != NULL && request->destination != NULL && request->prefix != NULL, NULL);

  tpt_exif_init ();
  if (!check_request (request, error))
    return NULL;
  run.scan = scan = tpt_scan_card (request->card, cancellable, error);
  if (scan == NULL)
    return NULL;

  run.places = places = tpt_intake_places_new (request->destination, request->prefix);
  if (!(request->verify_only ? take_files (&run, error) : copy_all (&run, error)))
    return NULL;
  take_others (&run);
  make_records (&run);
  return g_steal_pointer (&intake);
}
