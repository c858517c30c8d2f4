/* What the frames of a card tell of themselves, before anything is copied:
 * names, sizes, readings, cameras. Only reads, and only the beginnings of files.
 */
#pragma once

#include <gio/gio.h>

#include "tpt-exif.h"
#include "tpt-scan.h"

G_BEGIN_DECLS

/**
 * TptSurveyFrame:
 * @path: (owned): below the card
 * @bytes: its size
 * @kind: by its name
 * @exif: (owned): what it tells; a file that cannot be read has nothing but its file time
 */
typedef struct {
  char *path;
  gint64 bytes;
  TptScanKind kind;
  TptExif *exif;
} TptSurveyFrame;

/**
 * TptSurveyBody: a camera, as frames tell it.
 * @make: (owned) (nullable):
 * @model: (owned) (nullable):
 * @serial: (owned) (nullable):
 * @frames: how many it took
 */
typedef struct {
  char *make;
  char *model;
  char *serial;
  guint frames;
} TptSurveyBody;

/**
 * TptSurvey:
 * @frames: (owned) (element-type TptSurveyFrame): in the card's order
 * @bodies: (owned) (element-type TptSurveyBody): most frames first
 * @clips: clips among @frames
 * @others: files that are no frames
 * @bytes: size of @frames together
 */
typedef struct {
  GPtrArray *frames;
  GPtrArray *bodies;
  guint clips;
  guint others;
  gint64 bytes;
} TptSurvey;

/* @done of @total frames have been read. Called in the calling thread. */
typedef void (*TptSurveyProgress) (guint done, guint total, gpointer user_data);

/**
 * tpt_survey_card:
 * @card: the card's folder
 * @progress: (nullable) (scope call):
 * @cancellable: (nullable): checked at every file
 * @error: return location
 *
 * Reads on as many threads as there are processors.
 *
 * Returns: (transfer full) (nullable): %NULL with %TPT_ERROR_IO or %G_IO_ERROR_CANCELLED
 */
TptSurvey *tpt_survey_card (const char *card, TptSurveyProgress progress, gpointer user_data, GCancellable *cancellable,
                            GError **error);
void tpt_survey_free (TptSurvey *self);

/* Frames with content whose copy, by name and size, lies where tpt_intake_run()
 * with this destination and prefix puts it. Looks at names only. */
guint tpt_survey_count_copied (const TptSurvey *self, const char *destination, const char *prefix);

/* The bodies of @exifs (element-type TptExif), most frames first. Frames that
 * tell no camera are no body's. */
GPtrArray *tpt_survey_count_bodies (GPtrArray *exifs);

/* The number at the end of a file's name before its extension, or -1: cameras
 * number their files. Of at most 9 digits. */
gint64 tpt_survey_number_of_name (const char *path);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptSurvey, tpt_survey_free)

G_END_DECLS
