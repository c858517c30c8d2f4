#include "tpt-scene.h"

#include <cairo.h>

#include "sci-random.h"

/* Daylight is green and brown; flash and infra-red at night come out grey. */
static void
set_color (cairo_t *cr, const TptScene *scene, double red, double green, double blue)
{
  double grey = 0.3 * red + 0.6 * green + 0.1 * blue;

  if (scene->night)
    cairo_set_source_rgb (cr, grey * 0.8, grey * 0.8, grey * 0.8);
  else
    cairo_set_source_rgb (cr, red, green, blue);
}

static void
draw_ground (cairo_t *cr, const TptScene *scene)
{
  double lift = 0.05 * sci_random_uniform (scene->trigger, 1, 1);

  set_color (cr, scene, 0.20 + lift, 0.31 + lift, 0.16);
  cairo_paint (cr);
  set_color (cr, scene, 0.36 + lift, 0.29 + lift, 0.19);
  cairo_move_to (cr, 0, TPT_SCENE_HEIGHT);
  cairo_line_to (cr, 0, TPT_SCENE_HEIGHT * 0.66);
  cairo_curve_to (cr, TPT_SCENE_WIDTH * 0.3, TPT_SCENE_HEIGHT * 0.58, TPT_SCENE_WIDTH * 0.7, TPT_SCENE_HEIGHT * 0.72, TPT_SCENE_WIDTH, TPT_SCENE_HEIGHT * 0.62);
  cairo_line_to (cr, TPT_SCENE_WIDTH, TPT_SCENE_HEIGHT);
  cairo_fill (cr);
}

static void
draw_trees (cairo_t *cr, const TptScene *scene)
{
  for (guint i = 0; i < 7; i++)
    {
      double x = TPT_SCENE_WIDTH * sci_random_uniform (scene->place, i, 2), width = 5 + 14 * sci_random_uniform (scene->place, i, 3);
      double shade = 0.10 + 0.14 * sci_random_uniform (scene->place, i, 4);

      set_color (cr, scene, shade + 0.05, shade + 0.03, shade);
      cairo_rectangle (cr, x, 0, width, TPT_SCENE_HEIGHT * (0.6 + 0.15 * sci_random_uniform (scene->place, i, 5)));
      cairo_fill (cr);
    }
}

/* Leaves move between frames: the usual cause of a false trigger. */
static void
draw_leaves (cairo_t *cr, const TptScene *scene)
{
  for (guint i = 0; i < 26; i++)
    {
      double sway = 4 * sci_random_uniform (scene->trigger, i, 10 + (guint) scene->step);
      double x = TPT_SCENE_WIDTH * sci_random_uniform (scene->place, i, 6) + sway, y = TPT_SCENE_HEIGHT * sci_random_uniform (scene->place, i, 7);
      double size = 3 + 8 * sci_random_uniform (scene->place, i, 8), shade = 0.24 + 0.3 * sci_random_uniform (scene->place, i, 9);

      set_color (cr, scene, shade * 0.6, shade, shade * 0.4);
      cairo_save (cr);
      cairo_translate (cr, x, y);
      cairo_rotate (cr, 6.28 * sci_random_uniform (scene->place, i, 11));
      cairo_scale (cr, size, size * 0.35);
      cairo_arc (cr, 0, 0, 1, 0, 2 * G_PI);
      cairo_restore (cr);
      cairo_fill (cr);
    }
}

static void
draw_animal (cairo_t *cr, const TptScene *scene)
{
  double size = 7.0 + 8.0 * scene->animal;
  double x = TPT_SCENE_WIDTH * (0.2 + 0.5 * sci_random_uniform (scene->trigger, 2, 2)) + 14 * scene->step;
  double y = TPT_SCENE_HEIGHT * 0.78 - size * 0.3;

  if (scene->animal == 0)
    return;
  set_color (cr, scene, scene->night ? 0.85 : 0.28, scene->night ? 0.85 : 0.20, 0.14);
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, size, size * 0.55);
  cairo_arc (cr, 0, 0, 1, 0, 2 * G_PI);
  cairo_restore (cr);
  cairo_fill (cr);
  cairo_arc (cr, x + size, y - size * 0.35, size * 0.36, 0, 2 * G_PI);
  cairo_fill (cr);
  for (int leg = -1; leg <= 1; leg += 2)
    {
      cairo_rectangle (cr, x + leg * size * 0.6 - 1.5, y, 3, size * 0.9);
      cairo_fill (cr);
    }
  if (scene->night) /* eyeshine */
    {
      cairo_set_source_rgb (cr, 1, 1, 1);
      cairo_arc (cr, x + size * 1.15, y - size * 0.4, 1.6, 0, 2 * G_PI);
      cairo_fill (cr);
    }
}

static guint8 *
copy_pixels (cairo_surface_t *surface)
{
  guint8 *pixels = g_malloc (3 * TPT_SCENE_WIDTH * TPT_SCENE_HEIGHT), *out = pixels;
  const guint8 *rows = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);

  for (int y = 0; y < TPT_SCENE_HEIGHT; y++)
    for (int x = 0; x < TPT_SCENE_WIDTH; x++)
      {
        guint32 pixel = *(const guint32 *) (gconstpointer) (rows + y * stride + 4 * x);

        *out++ = (guint8) (pixel >> 16);
        *out++ = (guint8) (pixel >> 8);
        *out++ = (guint8) pixel;
      }
  return pixels;
}

guint8 *
tpt_scene_render (const TptScene *scene)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, TPT_SCENE_WIDTH, TPT_SCENE_HEIGHT);
  cairo_t *cr = cairo_create (surface);
  guint8 *pixels;

  draw_ground (cr, scene);
  draw_trees (cr, scene);
  draw_animal (cr, scene);
  draw_leaves (cr, scene);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  pixels = copy_pixels (surface);
  cairo_surface_destroy (surface);
  return pixels;
}
