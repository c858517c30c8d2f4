#include "config.h"

#include "tpt-survey.h"

#include <string.h>

#include "tpt-intake-place.h"

/* Frames a thread takes at a time, and between two questions whether to stop. */
#define PORTION 64

typedef struct {
  const char *card;          /* (unowned) */
  GPtrArray *frames;         /* (unowned) */
  TptScan *scan;             /* (unowned) */
  GCancellable *cancellable; /* (unowned) (nullable) */
  gint next;                 /* atomic: first frame nobody has taken */
  gint done;                 /* atomic */
} Reading;

static void
free_frame (gpointer data)
{
  TptSurveyFrame *frame = data;

  g_free (frame->path);
  g_clear_pointer (&frame->exif, tpt_exif_free);
  g_free (frame);
}

static void
free_body (gpointer data)
{
  TptSurveyBody *body = data;

  g_free (body->make);
  g_free (body->model);
  g_free (body->serial);
  g_free (body);
}

void
tpt_survey_free (TptSurvey *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->frames);
  g_clear_pointer (&self->bodies, g_ptr_array_unref);
  g_free (self);
}

static TptExif *
read_frame (const char *card, const TptScanFile *file)
{
  g_autofree char *path = g_build_filename (card, file->path, NULL);
  TptExif *exif = file->kind != TPT_SCAN_CLIP ? tpt_exif_read (path, file->mtime_ms, NULL) : NULL;

  return exif != NULL ? exif : tpt_exif_from_file_time (file->mtime_ms);
}

static void
read_portion (Reading *reading, guint first)
{
  guint end = MIN (first + PORTION, reading->frames->len);

  for (guint i = first; i < end && !g_cancellable_is_cancelled (reading->cancellable); i++)
    {
      TptSurveyFrame *frame = g_ptr_array_index (reading->frames, i);

      frame->exif = read_frame (reading->card, g_ptr_array_index (reading->scan->frames, i));
      g_atomic_int_inc (&reading->done);
    }
}

static gpointer
read_frames (gpointer data)
{
  Reading *reading = data;

  for (;;)
    {
      guint first = (guint) g_atomic_int_add (&reading->next, PORTION);

      if (first >= reading->frames->len || g_cancellable_is_cancelled (reading->cancellable))
        return NULL;
      read_portion (reading, first);
    }
}

/* The calling thread reads as well, and tells how far it is. */
static void
read_beside (Reading *reading, TptSurveyProgress progress, gpointer user_data)
{
  for (;;)
    {
      guint first = (guint) g_atomic_int_add (&reading->next, PORTION);

      if (first >= reading->frames->len || g_cancellable_is_cancelled (reading->cancellable))
        return;
      read_portion (reading, first);
      if (progress != NULL)
        progress ((guint) g_atomic_int_get (&reading->done), reading->frames->len, user_data);
    }
}

static void
read_all (Reading *reading, TptSurveyProgress progress, gpointer user_data)
{
  guint n_helpers = MIN (g_get_num_processors (), 8) - 1;
  g_autofree GThread **helpers = g_new0 (GThread *, n_helpers + 1);

  for (guint i = 0; i < n_helpers; i++)
    helpers[i] = g_thread_new ("survey", read_frames, reading);
  read_beside (reading, progress, user_data);
  for (guint i = 0; i < n_helpers; i++)
    g_thread_join (helpers[i]);
}

static TptSurveyBody *
find_body (GHashTable *by_name, GPtrArray *bodies, const TptExif *exif)
{
  g_autofree char *key = g_strjoin ("\n", exif->make != NULL ? exif->make : "", exif->model != NULL ? exif->model : "",
                                    exif->serial != NULL ? exif->serial : "", NULL);
  TptSurveyBody *body = g_hash_table_lookup (by_name, key);

  if (body == NULL)
    {
      body = g_new0 (TptSurveyBody, 1);
      body->make = g_strdup (exif->make);
      body->model = g_strdup (exif->model);
      body->serial = g_strdup (exif->serial);
      g_ptr_array_add (bodies, body);
      g_hash_table_insert (by_name, g_steal_pointer (&key), body);
    }
  return body;
}

static int
compare_bodies_cb (gconstpointer a, gconstpointer b)
{
  const TptSurveyBody *first = *(TptSurveyBody *const *) a, *second = *(TptSurveyBody *const *) b;
  int order = g_strcmp0 (first->make, second->make);

  if (first->frames != second->frames)
    return first->frames > second->frames ? -1 : 1;
  if (order == 0)
    order = g_strcmp0 (first->model, second->model);
  return order != 0 ? order : g_strcmp0 (first->serial, second->serial);
}

GPtrArray *
tpt_survey_count_bodies (GPtrArray *exifs)
{
  GPtrArray *bodies = g_ptr_array_new_with_free_func (free_body);
  g_autoptr (GHashTable) by_name = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < exifs->len; i++)
    {
      const TptExif *exif = g_ptr_array_index (exifs, i);

      if (exif->make != NULL || exif->model != NULL || exif->serial != NULL)
        find_body (by_name, bodies, exif)->frames++;
    }
  g_ptr_array_sort (bodies, compare_bodies_cb);
  return bodies;
}

static GPtrArray *
list_frames (const TptScan *scan)
{
  GPtrArray *frames = g_ptr_array_new_with_free_func (free_frame);

  for (guint i = 0; i < scan->frames->len; i++)
    {
      const TptScanFile *file = g_ptr_array_index (scan->frames, i);
      TptSurveyFrame *frame = g_new0 (TptSurveyFrame, 1);

      frame->path = g_strdup (file->path);
      frame->bytes = file->bytes;
      frame->kind = file->kind;
      g_ptr_array_add (frames, frame);
    }
  return frames;
}

TptSurvey *
tpt_survey_card (const char *card, TptSurveyProgress progress, gpointer user_data, GCancellable *cancellable,
                 GError **error)
{
  g_autoptr (TptScan) scan = tpt_scan_card (card, cancellable, error);
  g_autoptr (TptSurvey) self = NULL;
  g_autoptr (GPtrArray) exifs = g_ptr_array_new ();
  Reading reading = { .card = card, .scan = scan, .cancellable = cancellable };

  if (scan == NULL)
    return NULL;
  tpt_exif_init ();
  self = g_new0 (TptSurvey, 1);
  self->frames = reading.frames = list_frames (scan);
  self->clips = scan->n_clips;
  self->others = scan->others->len;
  self->bytes = scan->bytes;
  read_all (&reading, progress, user_data);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;

  for (guint i = 0; i < self->frames->len; i++)
    g_ptr_array_add (exifs, ((TptSurveyFrame *) g_ptr_array_index (self->frames, i))->exif);
  self->bodies = tpt_survey_count_bodies (exifs);
  return g_steal_pointer (&self);
}

guint
tpt_survey_count_copied (const TptSurvey *self, const char *destination, const char *prefix)
{
  g_autoptr (TptIntakePlaces) places = tpt_intake_places_new (destination, prefix);
  guint n = 0;

  for (guint i = 0; i < self->frames->len; i++)
    {
      const TptSurveyFrame *frame = self->frames->pdata[i];

      n += frame->bytes > 0 && tpt_intake_places_may_have (places, frame->path, frame->bytes);
    }
  return n;
}

gint64
tpt_survey_number_of_name (const char *path)
{
  const char *slash = strrchr (path, '/');
  const char *name = slash != NULL ? slash + 1 : path;
  const char *dot = strrchr (name, '.');
  const char *end = dot != NULL ? dot : name + strlen (name);
  const char *start = end;

  while (start > name && g_ascii_isdigit (start[-1]) && end - start < 9)
    start--;
  return start < end ? g_ascii_strtoll (start, NULL, 10) : -1;
}
