#include "config.h"

#include <glib/gstdio.h>

#include "sci-random.h"
#include "tpt-batches.h"
#include "tpt-demo-private.h"
#include "tpt-error.h"
#include "tpt-picture-file.h"
#include "tpt-scene.h"

/* The pictures of a batch on their way to disk and to the record. */
typedef struct {
  TptDemoStory *told;
  GArray *bursts;
  GArray *frames;     /* (owned) (element-type TptNewFrame) */
  GPtrArray *strings; /* (owned) */
  char *serial;       /* (owned) */
} Roll;

static char *
keep (Roll *roll, char *text)
{
  g_ptr_array_add (roll->strings, text);
  return text;
}

static gboolean
write_picture (const char *path, const TptScene *scene, TptReading reading, const char *serial, double temperature, GError **error)
{
  g_autofree guint8 *pixels = tpt_scene_render (scene);
  TptExifStamp stamp = {
    .reading = reading,
    .make = "Fern & Ford",
    .model = "Trail 2",
    .serial = serial,
    .temperature_c = temperature,
    .flash = scene->night,
  };

  return tpt_picture_file_write (path, pixels, scene->width, tpt_scene_get_height (scene), &stamp, error);
}

/* Pixels: what is on record is small, so that the demo is; the cards that wait
 * to be named are not. */
#define RECORD_WIDTH 240
#define CARD_WIDTH 960

static TptScene
set_scene (guint station, const TptDemoBurst *burst, int step, int width)
{
  TptScene scene = {
    .place = 1000 + station,
    .trigger = (guint64) burst->at,
    .night = tpt_demo_is_night (burst->at + step * TPT_DEMO_BURST_MS),
    .step = step,
    .width = width,
  };

  if (burst->species >= 0)
    {
      scene.body = demo_species[burst->species].body;
      scene.size = demo_species[burst->species].size;
      scene.animals = burst->animals;
    }
  else if (burst->species == -2)
    {
      scene.body = TPT_BODY_PERSON;
      scene.size = 4;
      scene.animals = 1;
    }
  return scene;
}

static gboolean
shoot (Roll *roll, guint burst_index, int step, GError **error)
{
  TptDemoStory *told = roll->told;
  const TptDemoBurst *burst = &g_array_index (roll->bursts, TptDemoBurst, burst_index);
  TptInstant at = burst->at + step * TPT_DEMO_BURST_MS;
  TptReading reading = { at + TPT_DEMO_ZONE_MS, TPT_NO_OFFSET };
  TptScene scene = set_scene (told->number, burst, step, RECORD_WIDTH);
  char *file = keep (roll, g_strdup_printf ("pictures/%s/IMG_%05" G_GINT64_FORMAT ".JPG", told->deployment, ++told->file_number));
  g_autofree char *path = g_build_filename (told->demo->folder, file, NULL);
  g_autofree char *content = NULL;
  gsize bytes;
  TptNewFrame frame = { 0 };

  if (!write_picture (path, &scene, reading, roll->serial, scene.night ? 24 : 29, error) ||
      !g_file_get_contents (path, &content, &bytes, error))
    return FALSE;
  frame.file = file;
  frame.camera_time = keep (roll, tpt_reading_format (reading));
  frame.time_source = "exif-original";
  frame.at = at;
  frame.sha256 = keep (roll, g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) content, bytes));
  frame.bytes = (gint64) bytes;
  frame.trigger = (int) burst_index;
  g_array_append_val (roll->frames, frame);
  return TRUE;
}

gboolean
tpt_demo_write_batch (TptDemoStory *told, GArray *bursts, GError **error)
{
  g_autoptr (GArray) frames = g_array_new (FALSE, TRUE, sizeof (TptNewFrame));
  g_autoptr (GPtrArray) strings = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *serial = tpt_demo_camera_serial (told->number);
  g_autofree char *folder = g_build_filename (told->demo->folder, "pictures", told->deployment, NULL);
  g_autofree char *relative = g_strdup_printf ("pictures/%s", told->deployment);
  g_autofree char *code = NULL;
  Roll roll = { told, bursts, frames, strings, serial };
  TptNewBatch batch = { 0 };

  if (bursts->len == 0)
    return TRUE;
  code = tpt_store_make_batch_code (told->demo->store, told->deployment, error);
  if (code == NULL)
    return FALSE;
  g_mkdir_with_parents (folder, 0777);
  for (guint i = 0; i < bursts->len; i++)
    for (int step = 0; step < TPT_DEMO_BURST_FRAMES; step++)
      if (g_cancellable_set_error_if_cancelled (told->demo->cancellable, error) || !shoot (&roll, i, step, error))
        return FALSE;

  batch.batch = code;
  batch.deployment_id = told->deployment_id;
  batch.source = "card";
  batch.folder = relative;
  batch.clock_true = TPT_NO_INSTANT;
  batch.clock_offset_s = 0;
  batch.frames = (const TptNewFrame *) (gpointer) frames->data;
  batch.n_frames = frames->len;
  return tpt_store_add_batch (told->demo->store, &batch, error);
}

/* Cards that came home and wait: what they hold since the last visit. */
typedef struct {
  const char *name;
  guint station;
  gboolean reset; /* the camera's clock fell back to the maker's date */
} Card;

static const Card cards[] = {
  { "card-moss", 4, TRUE },
  { "card-duri", 12, FALSE },
};

static gboolean
write_card_picture (TptDemo *demo, const Card *card, const char *folder, const TptDemoBurst *burst, int step, guint number,
                    TptInstant last, GError **error)
{
  g_autofree char *name = g_strdup_printf ("IMG_%04u.JPG", number);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autofree char *serial = tpt_demo_camera_serial (card->station);
  TptInstant at = burst->at + step * TPT_DEMO_BURST_MS;
  TptReading reading = { at + TPT_DEMO_ZONE_MS, TPT_NO_OFFSET };
  TptScene scene = set_scene (card->station, burst, step, CARD_WIDTH);

  if (card->reset)
    reading.clock_ms = tpt_days_from_civil (2020, 1, 1) * TPT_DAY + (at - last);
  return write_picture (path, &scene, reading, serial, scene.night ? 24 : 29, error);
}

/* What goes wrong on cards: one picture cut short, one empty. */
static gboolean
spoil_card (const char *folder, guint number, GError **error)
{
  g_autofree char *cut = g_build_filename (folder, "IMG_0002.JPG", NULL);
  g_autofree char *name = g_strdup_printf ("IMG_%04u.JPG", number);
  g_autofree char *empty = g_build_filename (folder, name, NULL);
  g_autofree char *content = NULL;
  gsize length;

  return g_file_get_contents (cut, &content, &length, error) &&
         g_file_set_contents (cut, content, (gssize) (length * 2 / 3), error) && g_file_set_contents (empty, "", 0, error);
}

static gboolean
write_card (TptDemo *demo, const Card *card, GError **error)
{
  TptDemoStory told = { .demo = demo, .station = &demo_stations[card->station], .number = card->station };
  TptInstant last = tpt_demo_last_visit (&told);
  g_autoptr (GArray) bursts = tpt_demo_draw_bursts (&told, last, TPT_DEMO_NOW, 2.5);
  g_autofree char *folder = g_build_filename (demo->folder, "cards", card->name, "DCIM", "100TRAIL", NULL);
  guint number = 0;

  if (g_mkdir_with_parents (folder, 0777) != 0)
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_IO, "%s", folder);
      return FALSE;
    }
  for (guint i = 0; i < bursts->len; i++)
    for (int step = 0; step < TPT_DEMO_BURST_FRAMES; step++)
      if (g_cancellable_set_error_if_cancelled (demo->cancellable, error) ||
          !write_card_picture (demo, card, folder, &g_array_index (bursts, TptDemoBurst, i), step, ++number, last, error))
        return FALSE;
  return card->reset || spoil_card (folder, number + 1, error);
}

static gboolean
write_card_note (TptDemo *demo, GError **error)
{
  g_autofree char *path = g_build_filename (demo->folder, "cards", "about these cards.txt", NULL);
  TptDemoStory told = { .station = &demo_stations[cards[0].station], .number = cards[0].station };
  g_autofree char *started = tpt_instant_format (tpt_demo_last_visit (&told), tpt_store_get_zone (demo->store));
  g_autofree char *text = g_strdup_printf (
    "Two cards that came home and are not taken in yet. In the window: Take in cards (Ctrl+T),\n"
    "then add their folders. In the terminal:\n\n"
    "card-moss   of the camera at Mossy steps. Its clock fell back to 2020-01-01 00:00 at the last\n"
    "            visit, %s, and the visit noted it.\n"
    "            tapetum intake kelabau.gpkg cards/card-moss --look\n"
    "            tapetum intake kelabau.gpkg cards/card-moss --repair-clock\n"
    "            or, with what the visit noted given by hand:\n"
    "            tapetum intake kelabau.gpkg --deployment MOSS-1 cards/card-moss \\\n"
    "              --clock-read 2020-01-01T00:00:00 --clock-true %s\n"
    "card-duri   of the camera at Durian flat. One picture is cut short, one file is empty.\n"
    "            tapetum intake kelabau.gpkg cards/card-duri\n",
    started, started);

  return g_file_set_contents (path, text, -1, error);
}

gboolean
tpt_demo_write_cards (TptDemo *demo, GError **error)
{
  for (guint i = 0; i < G_N_ELEMENTS (cards); i++)
    if (!write_card (demo, &cards[i], error))
      return FALSE;
  return write_card_note (demo, error);
}
