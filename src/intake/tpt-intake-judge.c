#include "config.h"

#include "tpt-intake-judge.h"

#include <glib/gi18n-lib.h>
#include <string.h>

void
tpt_intake_judge_init (TptIntakeJudge *judge)
{
  memset (judge, 0, sizeof *judge);
  judge->walk = tpt_jpeg_walk_new ();
}

void
tpt_intake_judge_clear (TptIntakeJudge *judge)
{
  g_clear_pointer (&judge->walk, tpt_jpeg_walk_free);
}

void
tpt_intake_judge_feed (TptIntakeJudge *judge, const guint8 *data, gsize length)
{
  gsize n = MIN (sizeof judge->head - judge->n_head, length);

  memcpy (judge->head + judge->n_head, data, n);
  judge->n_head += n;
  tpt_jpeg_walk_feed (judge->walk, data, length);
}

void
tpt_intake_verdict_clear (TptIntakeVerdict *verdict)
{
  g_clear_pointer (&verdict->exif, tpt_exif_free);
  g_clear_pointer (&verdict->damage, g_free);
  g_clear_pointer (&verdict->unreadable, g_free);
}

static gboolean
has_own_date (const TptExif *exif)
{
  return exif->source != TPT_TIME_NONE && exif->source != TPT_TIME_FILE;
}

static TptExif *
read_jpeg (TptIntakeJudge *judge, const char *path, TptInstant file_time)
{
  TptExif *exif = tpt_exif_read (path, file_time, NULL);
  const guint8 *segment;
  gsize length;

  if (exif == NULL && (segment = tpt_jpeg_walk_get_exif (judge->walk, &length)) != NULL)
    exif = tpt_exif_read_app1 (segment, length, file_time, NULL);
  return exif != NULL ? exif : tpt_exif_from_file_time (file_time);
}

static void
decide_jpeg (TptIntakeJudge *judge, const char *path, const TptScanFile *file, TptIntakeVerdict *verdict)
{
  TptJpegState state = tpt_jpeg_walk_get_state (judge->walk);

  verdict->kind = TPT_SCAN_JPEG;
  if (state == TPT_JPEG_NOT)
    {
      verdict->unreadable = g_strdup (_("The file breaks off before the picture begins"));
      return;
    }

  verdict->exif = read_jpeg (judge, path, file->mtime_ms);
  if (state == TPT_JPEG_CUT && tpt_jpeg_walk_get_scan_bytes (judge->walk) == 0 && !has_own_date (verdict->exif))
    {
      g_clear_pointer (&verdict->exif, tpt_exif_free);
      verdict->unreadable = g_strdup (_("The file breaks off before the picture begins, and has no date"));
    }
  else if (state == TPT_JPEG_CUT)
    verdict->damage = g_strdup (_("The picture is cut off"));
  else if (state == TPT_JPEG_HOLED)
    verdict->damage = g_strdup (_("Part of the picture is lost"));
}

/* Formats whose metadata the library cannot read, or not in every version. */
static gboolean
is_beyond_library (TptIntakeJudge *judge)
{
  return judge->n_head >= 8 && (memcmp (judge->head + 4, "ftyp", 4) == 0 || memcmp (judge->head, "FOVb", 4) == 0);
}

static void
decide_raw (TptIntakeJudge *judge, const char *path, const TptScanFile *file, TptIntakeVerdict *verdict)
{
  g_autoptr (GError) error = NULL;

  verdict->kind = TPT_SCAN_RAW;
  verdict->exif = tpt_exif_read (path, file->mtime_ms, &error);
  if (verdict->exif == NULL && is_beyond_library (judge))
    verdict->exif = tpt_exif_from_file_time (file->mtime_ms);
  if (verdict->exif == NULL)
    verdict->unreadable = g_strdup (error->message);
}

void
tpt_intake_judge_decide (TptIntakeJudge *judge, const char *path, const TptScanFile *file, TptIntakeVerdict *verdict)
{
  TptScanKind content = tpt_scan_kind_from_content (judge->head, judge->n_head);

  memset (verdict, 0, sizeof *verdict);
  verdict->kind = file->kind;
  if (judge->n_head == 0)
    verdict->unreadable = g_strdup (_("The file is empty"));
  else if (content == TPT_SCAN_JPEG)
    decide_jpeg (judge, path, file, verdict);
  else if (content == TPT_SCAN_RAW || (content == TPT_SCAN_OTHER && file->kind == TPT_SCAN_RAW))
    decide_raw (judge, path, file, verdict);
  else if (content == TPT_SCAN_CLIP && file->kind == TPT_SCAN_CLIP)
    verdict->exif = tpt_exif_from_file_time (file->mtime_ms);
  else if (file->kind == TPT_SCAN_CLIP)
    verdict->unreadable = g_strdup (_("The content is not that of a clip"));
  else
    verdict->unreadable = g_strdup (_("The content is not that of a picture"));
}
