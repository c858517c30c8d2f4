#include "tpt-scene-private.h"

#include "sci-random.h"

void
tpt_scene_set_color (cairo_t *cr, const TptScene *scene, double red, double green, double blue)
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

  tpt_scene_set_color (cr, scene, 0.20 + lift, 0.31 + lift, 0.16);
  cairo_paint (cr);
  tpt_scene_set_color (cr, scene, 0.36 + lift, 0.29 + lift, 0.19);
  cairo_move_to (cr, 0, SCENE_HEIGHT);
  cairo_line_to (cr, 0, SCENE_HEIGHT * 0.66);
  cairo_curve_to (cr, SCENE_WIDTH * 0.3, SCENE_HEIGHT * 0.58, SCENE_WIDTH * 0.7, SCENE_HEIGHT * 0.72, SCENE_WIDTH, SCENE_HEIGHT * 0.62);
  cairo_line_to (cr, SCENE_WIDTH, SCENE_HEIGHT);
  cairo_fill (cr);
}

static void
draw_trees (cairo_t *cr, const TptScene *scene)
{
  for (guint i = 0; i < 7; i++)
    {
      double x = SCENE_WIDTH * sci_random_uniform (scene->place, i, 2), width = 5 + 14 * sci_random_uniform (scene->place, i, 3);
      double shade = 0.10 + 0.14 * sci_random_uniform (scene->place, i, 4);
      double foot = SCENE_HEIGHT * (0.6 + 0.15 * sci_random_uniform (scene->place, i, 5));

      tpt_scene_set_color (cr, scene, shade + 0.05, shade + 0.03, shade);
      cairo_move_to (cr, x, 0);
      cairo_line_to (cr, x, foot - width * 0.5);
      cairo_line_to (cr, x - width * 0.25, foot); /* roots */
      cairo_line_to (cr, x + width * 1.25, foot);
      cairo_line_to (cr, x + width, foot - width * 0.5);
      cairo_line_to (cr, x + width, 0);
      cairo_fill (cr);
    }
}

static void
draw_leaf (cairo_t *cr, double x, double y, double size, double turn)
{
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_rotate (cr, turn);
  cairo_scale (cr, size, size * 0.35);
  cairo_arc (cr, 0, 0, 1, 0, 2 * G_PI);
  cairo_restore (cr);
  cairo_fill (cr);
}

/* What lies on the ground stays where it is. A small picture would not show
 * much of it. */
static void
draw_litter (cairo_t *cr, const TptScene *scene)
{
  guint n = scene->width < 480 ? 12 : 60;

  for (guint i = 0; i < n; i++)
    {
      double shade = 0.20 + 0.22 * sci_random_uniform (scene->place, i, 21);

      tpt_scene_set_color (cr, scene, shade + 0.1, shade, shade * 0.6);
      draw_leaf (cr, SCENE_WIDTH * sci_random_uniform (scene->place, i, 22), SCENE_HEIGHT * (0.72 + 0.28 * sci_random_uniform (scene->place, i, 23)),
                 1 + 2.5 * sci_random_uniform (scene->place, i, 24), 6.28 * sci_random_uniform (scene->place, i, 25));
    }
}

/* Leaves move between frames: the usual cause of a false trigger. */
static void
draw_leaves (cairo_t *cr, const TptScene *scene)
{
  for (guint i = 0; i < 26; i++)
    {
      double sway = 4 * sci_random_uniform (scene->trigger, i, 10 + (guint) scene->step);
      double shade = 0.24 + 0.3 * sci_random_uniform (scene->place, i, 9);

      tpt_scene_set_color (cr, scene, shade * 0.6, shade, shade * 0.4);
      draw_leaf (cr, SCENE_WIDTH * sci_random_uniform (scene->place, i, 6) + sway, SCENE_HEIGHT * sci_random_uniform (scene->place, i, 7),
                 3 + 8 * sci_random_uniform (scene->place, i, 8), 6.28 * sci_random_uniform (scene->place, i, 11));
    }
}

/* A flash lights the middle; the corners and what is far away stay dark. */
static void
draw_fall_off (cairo_t *cr, const TptScene *scene)
{
  cairo_pattern_t *dark;

  if (!scene->night)
    return;
  dark = cairo_pattern_create_radial (SCENE_WIDTH * 0.5, SCENE_HEIGHT * 0.72, 30, SCENE_WIDTH * 0.5, SCENE_HEIGHT * 0.72, 165);
  cairo_pattern_add_color_stop_rgba (dark, 0, 0, 0, 0, 0);
  cairo_pattern_add_color_stop_rgba (dark, 1, 0, 0, 0, 0.75);
  cairo_set_source (cr, dark);
  cairo_paint (cr);
  cairo_pattern_destroy (dark);
}

static guint8 *
copy_pixels (cairo_surface_t *surface)
{
  int width = cairo_image_surface_get_width (surface), height = cairo_image_surface_get_height (surface);
  guint8 *pixels = g_malloc (3 * (gsize) width * (gsize) height), *out = pixels;
  const guint8 *rows = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        guint32 pixel = *(const guint32 *) (gconstpointer) (rows + y * stride + 4 * x);

        *out++ = (guint8) (pixel >> 16);
        *out++ = (guint8) (pixel >> 8);
        *out++ = (guint8) pixel;
      }
  return pixels;
}

int
tpt_scene_get_height (const TptScene *scene)
{
  return scene->width * 2 / 3;
}

guint8 *
tpt_scene_render (const TptScene *scene)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, scene->width, tpt_scene_get_height (scene));
  cairo_t *cr = cairo_create (surface);
  guint8 *pixels;

  cairo_scale (cr, scene->width / SCENE_WIDTH, scene->width / SCENE_WIDTH);
  draw_ground (cr, scene);
  draw_trees (cr, scene);
  draw_litter (cr, scene);
  tpt_scene_draw_animals (cr, scene);
  draw_leaves (cr, scene);
  draw_fall_off (cr, scene);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  pixels = copy_pixels (surface);
  cairo_surface_destroy (surface);
  return pixels;
}
