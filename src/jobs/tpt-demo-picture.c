#include "config.h"

#include <cairo.h>
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <math.h>

#include "tpt-demo-private.h"
#include "tpt-error.h"
#include "tpt-exif.h"

#define WIDTH 240
#define HEIGHT 160

/* Fixed, so that the demo is the same bytes every time. */
#define JPEG_QUALITY "60"

guint64
tpt_demo_hash (guint64 a, guint64 b, guint64 c)
{
  guint64 z = a * 0x9e3779b97f4a7c15u + b * 0xbf58476d1ce4e5b9u + c * 0x94d049bb133111ebu + 0x2545f4914f6cdd1du;

  /* Steele, Lea & Flood 2014, "Fast splittable pseudorandom number generators". */
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

double
tpt_demo_uniform (guint64 a, guint64 b, guint64 c)
{
  return (double) (tpt_demo_hash (a, b, c) >> 11) / 9007199254740992.0;
}

/* Daylight is green and brown; flash and infra-red at night come out grey. */
static void
set_color (cairo_t *cr, const TptDemoShot *shot, double red, double green, double blue)
{
  double grey = 0.3 * red + 0.6 * green + 0.1 * blue;

  if (shot->night)
    cairo_set_source_rgb (cr, grey * 0.8, grey * 0.8, grey * 0.8);
  else
    cairo_set_source_rgb (cr, red, green, blue);
}

static void
draw_ground (cairo_t *cr, const TptDemoShot *shot)
{
  double lift = 0.05 * tpt_demo_uniform (shot->trigger, 1, 1);

  set_color (cr, shot, 0.20 + lift, 0.31 + lift, 0.16);
  cairo_paint (cr);
  set_color (cr, shot, 0.36 + lift, 0.29 + lift, 0.19);
  cairo_move_to (cr, 0, HEIGHT);
  cairo_line_to (cr, 0, HEIGHT * 0.66);
  cairo_curve_to (cr, WIDTH * 0.3, HEIGHT * 0.58, WIDTH * 0.7, HEIGHT * 0.72, WIDTH, HEIGHT * 0.62);
  cairo_line_to (cr, WIDTH, HEIGHT);
  cairo_fill (cr);
}

static void
draw_trees (cairo_t *cr, const TptDemoShot *shot)
{
  for (guint i = 0; i < 7; i++)
    {
      double x = WIDTH * tpt_demo_uniform (shot->scene, i, 2), width = 5 + 14 * tpt_demo_uniform (shot->scene, i, 3);
      double shade = 0.10 + 0.14 * tpt_demo_uniform (shot->scene, i, 4);

      set_color (cr, shot, shade + 0.05, shade + 0.03, shade);
      cairo_rectangle (cr, x, 0, width, HEIGHT * (0.6 + 0.15 * tpt_demo_uniform (shot->scene, i, 5)));
      cairo_fill (cr);
    }
}

/* Leaves move between frames: the usual cause of a false trigger. */
static void
draw_leaves (cairo_t *cr, const TptDemoShot *shot)
{
  for (guint i = 0; i < 26; i++)
    {
      double sway = 4 * tpt_demo_uniform (shot->trigger, i, 10 + (guint) shot->step);
      double x = WIDTH * tpt_demo_uniform (shot->scene, i, 6) + sway, y = HEIGHT * tpt_demo_uniform (shot->scene, i, 7);
      double size = 3 + 8 * tpt_demo_uniform (shot->scene, i, 8), shade = 0.24 + 0.3 * tpt_demo_uniform (shot->scene, i, 9);

      set_color (cr, shot, shade * 0.6, shade, shade * 0.4);
      cairo_save (cr);
      cairo_translate (cr, x, y);
      cairo_rotate (cr, 6.28 * tpt_demo_uniform (shot->scene, i, 11));
      cairo_scale (cr, size, size * 0.35);
      cairo_arc (cr, 0, 0, 1, 0, 2 * G_PI);
      cairo_restore (cr);
      cairo_fill (cr);
    }
}

static void
draw_animal (cairo_t *cr, const TptDemoShot *shot)
{
  double size = 7.0 + 8.0 * shot->animal;
  double x = WIDTH * (0.2 + 0.5 * tpt_demo_uniform (shot->trigger, 2, 2)) + 14 * shot->step;
  double y = HEIGHT * 0.78 - size * 0.3;

  if (shot->animal == 0)
    return;
  set_color (cr, shot, shot->night ? 0.85 : 0.28, shot->night ? 0.85 : 0.20, 0.14);
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
  if (shot->night) /* eyeshine */
    {
      cairo_set_source_rgb (cr, 1, 1, 1);
      cairo_arc (cr, x + size * 1.15, y - size * 0.4, 1.6, 0, 2 * G_PI);
      cairo_fill (cr);
    }
}

static GdkPixbuf *
to_pixbuf (cairo_surface_t *surface)
{
  GdkPixbuf *pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, WIDTH, HEIGHT);
  guint8 *out = gdk_pixbuf_get_pixels (pixbuf);
  const guint8 *in = cairo_image_surface_get_data (surface);

  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      {
        guint32 pixel = *(const guint32 *) (gconstpointer) (in + y * cairo_image_surface_get_stride (surface) + 4 * x);
        guint8 *rgb = out + y * gdk_pixbuf_get_rowstride (pixbuf) + 3 * x;

        rgb[0] = (guint8) (pixel >> 16);
        rgb[1] = (guint8) (pixel >> 8);
        rgb[2] = (guint8) pixel;
      }
  return pixbuf;
}

static GdkPixbuf *
draw (const TptDemoShot *shot)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);
  GdkPixbuf *pixbuf;

  draw_ground (cr, shot);
  draw_trees (cr, shot);
  draw_animal (cr, shot);
  draw_leaves (cr, shot);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  pixbuf = to_pixbuf (surface);
  cairo_surface_destroy (surface);
  return pixbuf;
}

gboolean
tpt_demo_write_picture (const char *path, const TptDemoShot *shot, TptReading reading, const char *serial, double temperature,
                        GError **error)
{
  g_autoptr (GdkPixbuf) pixbuf = draw (shot);
  TptExifStamp stamp = {
    .reading = reading,
    .make = "Fern & Ford",
    .model = "Trail 2",
    .serial = serial,
    .temperature_c = temperature,
    .flash = shot->night,
  };

  return tpt_fault_point ("picture", error) &&
         gdk_pixbuf_save (pixbuf, path, "jpeg", error, "quality", JPEG_QUALITY, NULL) &&
         tpt_exif_write_times (path, &stamp, error);
}
