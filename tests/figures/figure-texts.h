/* Where the words of a figure stand, read back from its SVG: whether they lie on it, and clear
 * of each other. */
#pragma once

#include "tpt-figure.h"

#include <glib/gstdio.h>
#include <stdlib.h>

/* @rects: (element-type TptFigureRect): one for each run of letters
 * @on_text: within a run */
typedef struct {
  GArray *rects;
  gboolean on_text;
} FigureTexts;

static inline void
figure_texts_start_cb (GMarkupParseContext *context,
                       const char *element,
                       const char **names,
                       const char **values,
                       gpointer user_data,
                       GError **error)
{
  FigureTexts *texts = user_data;
  const char *href = NULL;
  double x = 0, y = 0;

  if (!g_str_equal (element, "use"))
    {
      texts->on_text = FALSE;
      return;
    }
  for (guint i = 0; names[i] != NULL; i++)
    {
      if (g_str_equal (names[i], "xlink:href"))
        href = values[i];
      else if (g_str_equal (names[i], "x"))
        x = g_ascii_strtod (values[i], NULL);
      else if (g_str_equal (names[i], "y"))
        y = g_ascii_strtod (values[i], NULL);
    }
  if (href == NULL || !g_str_has_prefix (href, "#glyph"))
    return;
  if (!texts->on_text && texts->rects->len > 0)
    {
      const TptFigureRect *last = &g_array_index (texts->rects, TptFigureRect, texts->rects->len - 1);

      /* the dots of a word that is cut are a run of their own, close behind it: no nearer
       * than the width put down for its last letter */
      texts->on_text = y - 5 == last->y && x > last->x + last->width - 4 && x < last->x + last->width + 2;
    }
  if (!texts->on_text)
    {
      /* a small letter is at least so high and wide */
      TptFigureRect rect = { x, y - 5, 4, 5 };

      g_array_append_val (texts->rects, rect);
      texts->on_text = TRUE;
      return;
    }
  g_array_index (texts->rects, TptFigureRect, texts->rects->len - 1).width =
    x + 4 - g_array_index (texts->rects, TptFigureRect, texts->rects->len - 1).x;
}

static inline char *
figure_svg (TptFigure *figure,
            double width,
            double height,
            const TptFigureStyle *style)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("figure-texts-XXXXXX", &error);
  g_autofree char *path = NULL;
  TptFigureSize size = { width, height, 96, TPT_NO_INSTANT };
  char *svg = NULL;

  g_assert_no_error (error);
  path = g_build_filename (folder, "figure.svg", NULL);
  tpt_figure_export (figure, path, &size, style, &error);
  g_assert_no_error (error);
  g_file_get_contents (path, &svg, NULL, &error);
  g_assert_no_error (error);
  g_remove (path);
  g_rmdir (folder);
  return svg;
}

/* Every run of letters, (element-type TptFigureRect). Fails when the SVG is not well formed. */
static inline GArray *
figure_texts (TptFigure *figure,
              double width,
              double height,
              const TptFigureStyle *style)
{
  const GMarkupParser parser = { figure_texts_start_cb, NULL, NULL, NULL, NULL };
  g_autoptr (GError) error = NULL;
  g_autofree char *svg = figure_svg (figure, width, height, style);
  FigureTexts texts = { g_array_new (FALSE, FALSE, sizeof (TptFigureRect)), FALSE };
  GMarkupParseContext *context = g_markup_parse_context_new (&parser, 0, &texts, NULL);

  g_markup_parse_context_parse (context, svg, -1, &error);
  g_assert_no_error (error);
  g_markup_parse_context_end_parse (context, &error);
  g_assert_no_error (error);
  g_markup_parse_context_free (context);
  return texts.rects;
}

/* Fails for words outside the figure or over other words. Returns how many runs there are. */
static inline guint
assert_texts_apart (TptFigure *figure,
                    double width,
                    double height,
                    const TptFigureStyle *style)
{
  g_autoptr (GArray) texts = figure_texts (figure, width, height, style);

  for (guint i = 0; i < texts->len; i++)
    {
      const TptFigureRect *a = &g_array_index (texts, TptFigureRect, i);

      g_assert_cmpfloat (a->x, >=, 0);
      g_assert_cmpfloat (a->y, >=, 0);
      g_assert_cmpfloat (a->x + a->width, <=, width);
      g_assert_cmpfloat (a->y + a->height, <=, height);
      for (guint j = 0; j < i; j++)
        {
          const TptFigureRect *b = &g_array_index (texts, TptFigureRect, j);
          gboolean apart = a->x >= b->x + b->width || b->x >= a->x + a->width || a->y >= b->y + b->height ||
            b->y >= a->y + a->height;

          if (!apart)
            g_test_message ("%g by %g: words at %g, %g (%g wide) and at %g, %g (%g wide)", width, height, a->x, a->y, a->width,
                            b->x, b->y, b->width);
          g_assert_true (apart);
        }
    }
  return texts->len;
}

/* Pixels of a drawing that are exactly of @role on its palette; on paper where nothing is. */
static inline guint
count_color (TptFigure *figure,
             int width,
             int height,
             const TptFigureStyle *style,
             TptColorRole role)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  TptColor color = tpt_palette_color (style->palette, role);
  guint32 wanted = (guint32) (color.red * 255 + 0.5) << 16 | (guint32) (color.green * 255 + 0.5) << 8 |
    (guint32) (color.blue * 255 + 0.5);
  guint found = 0;

  tpt_palette_set (style->palette, cr, TPT_COLOR_PAPER, 1);
  cairo_paint (cr);
  tpt_figure_draw (figure, cr, width, height, style);
  cairo_surface_flush (surface);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        const guint8 *row = cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface);

        found += (((const guint32 *) (gconstpointer) row)[x] & 0xffffff) == wanted;
      }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return found;
}
