#include "config.h"

#include "tpt-canvas-private.h"

#include <glib/gi18n-lib.h>

void
tpt_canvas_begin (TptCanvas *canvas,
                  cairo_t *cr,
                  const TptFigureStyle *style)
{
  cairo_font_options_t *options = cairo_font_options_create ();

  canvas->cr = cairo_reference (cr);
  canvas->style = style;
  canvas->em = TPT_CANVAS_BODY * style->font_scale;
  canvas->layout = pango_cairo_create_layout (cr);
  /* The order of a screen's colour stripes has no place in a file. */
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (pango_layout_get_context (canvas->layout), options);
  cairo_font_options_destroy (options);
  cairo_save (cr);
}

void
tpt_canvas_begin_blank (TptCanvas *canvas,
                        const TptFigureStyle *style)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1);
  cairo_t *cr = cairo_create (surface);

  cairo_surface_destroy (surface);
  tpt_canvas_begin (canvas, cr, style);
  cairo_destroy (cr);
}

void
tpt_canvas_end (TptCanvas *canvas)
{
  cairo_restore (canvas->cr);
  g_clear_object (&canvas->layout);
  g_clear_pointer (&canvas->cr, cairo_destroy);
}

double
tpt_canvas_get_inset (const TptCanvas *canvas)
{
  return canvas->style->framed ? 0 : 0.6 * canvas->em;
}

void
tpt_canvas_set (TptCanvas *canvas,
                TptColorRole role,
                double alpha)
{
  tpt_palette_set (canvas->style->palette, canvas->cr, role, alpha);
}

static void
set_layout (TptCanvas *canvas,
            const char *words,
            const TptText *text)
{
  PangoFontDescription *font = pango_font_description_new ();
  double size = canvas->em * (text->size > 0 ? text->size : 1);

  pango_font_description_set_family (font, canvas->style->font != NULL ? canvas->style->font : "Sans");
  pango_font_description_set_absolute_size (font, size * PANGO_SCALE);
  if (text->bold)
    pango_font_description_set_weight (font, PANGO_WEIGHT_BOLD);
  if (text->italic)
    pango_font_description_set_style (font, PANGO_STYLE_ITALIC);
  pango_layout_set_font_description (canvas->layout, font);
  pango_font_description_free (font);

  pango_layout_set_width (canvas->layout, text->width > 0 ? (int) (text->width * PANGO_SCALE) : -1);
  pango_layout_set_wrap (canvas->layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_ellipsize (canvas->layout, text->width > 0 && !text->wrap ? PANGO_ELLIPSIZE_END : PANGO_ELLIPSIZE_NONE);
  pango_layout_set_single_paragraph_mode (canvas->layout, !text->wrap);
  pango_layout_set_text (canvas->layout, words, -1);
}

static void
get_layout_size (TptCanvas *canvas,
                 double *width,
                 double *height)
{
  PangoRectangle logical;

  pango_layout_get_extents (canvas->layout, NULL, &logical);
  *width = logical.width / (double) PANGO_SCALE;
  *height = logical.height / (double) PANGO_SCALE;
}

void
tpt_canvas_measure (TptCanvas *canvas,
                    const char *words,
                    const TptText *text,
                    double *width,
                    double *height)
{
  set_layout (canvas, words, text);
  get_layout_size (canvas, width, height);
}

TptFigureRect
tpt_canvas_place (TptCanvas *canvas,
                  const char *words,
                  double x,
                  double y,
                  const TptText *text)
{
  TptFigureRect rect;

  tpt_canvas_measure (canvas, words, text, &rect.width, &rect.height);
  rect.x = x - text->across * rect.width;
  rect.y = y - text->down * rect.height;
  return rect;
}

static void
draw_halo (TptCanvas *canvas)
{
  cairo_save (canvas->cr);
  pango_cairo_layout_path (canvas->cr, canvas->layout);
  tpt_canvas_set (canvas, TPT_COLOR_GROUND, 0.85);
  cairo_set_line_width (canvas->cr, 0.28 * canvas->em);
  cairo_set_line_join (canvas->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (canvas->cr);
  cairo_restore (canvas->cr);
}

void
tpt_canvas_write (TptCanvas *canvas,
                  const char *words,
                  double x,
                  double y,
                  const TptText *text)
{
  TptFigureRect rect = tpt_canvas_place (canvas, words, x, y, text);
  TptColorRole role = text->role != TPT_COLOR_PAPER ? text->role : TPT_COLOR_INK;

  cairo_new_path (canvas->cr);
  cairo_move_to (canvas->cr, rect.x, rect.y);
  if (text->halo)
    {
      draw_halo (canvas);
      cairo_move_to (canvas->cr, rect.x, rect.y);
    }
  tpt_canvas_set (canvas, role, 1);
  pango_cairo_show_layout (canvas->cr, canvas->layout);
  cairo_new_path (canvas->cr);
}

void
tpt_canvas_round_rect (TptCanvas *canvas,
                       const TptFigureRect *rect,
                       double radius)
{
  double r = MIN (radius, MIN (rect->width, rect->height) / 2);
  double right = rect->x + rect->width;
  double bottom = rect->y + rect->height;

  cairo_new_sub_path (canvas->cr);
  cairo_arc (canvas->cr, right - r, rect->y + r, r, -G_PI_2, 0);
  cairo_arc (canvas->cr, right - r, bottom - r, r, 0, G_PI_2);
  cairo_arc (canvas->cr, rect->x + r, bottom - r, r, G_PI_2, G_PI);
  cairo_arc (canvas->cr, rect->x + r, rect->y + r, r, G_PI, 3 * G_PI_2);
  cairo_close_path (canvas->cr);
}

void
tpt_canvas_rule (TptCanvas *canvas,
                 double x0,
                 double y0,
                 double x1,
                 double y1,
                 double width)
{
  cairo_set_line_width (canvas->cr, width);
  cairo_move_to (canvas->cr, x0, y0);
  cairo_line_to (canvas->cr, x1, y1);
  cairo_stroke (canvas->cr);
}

void
tpt_canvas_set_series (TptCanvas *canvas,
                       guint index)
{
  /* In em. */
  static const double dashes[][4] = { { 0 }, { 0.55, 0.35 }, { 0.12, 0.28 }, { 0.9, 0.28, 0.14, 0.28 } };
  const double *dash = dashes[(index + index / TPT_N_SERIES) % G_N_ELEMENTS (dashes)];
  double scaled[4];
  int n = 0;

  for (; n < 4 && dash[n] > 0; n++)
    scaled[n] = dash[n] * canvas->em;
  tpt_canvas_set (canvas, TPT_COLOR_SERIES_1 + index % TPT_N_SERIES, 1);
  cairo_set_dash (canvas->cr, scaled, n, 0);
  cairo_set_line_width (canvas->cr, 1.7);
  cairo_set_line_join (canvas->cr, CAIRO_LINE_JOIN_MITER);
}

gboolean
tpt_canvas_is_chosen (const TptCanvas *canvas,
                      const char *key)
{
  const char *const *keys = canvas->style->chosen_keys;

  return keys == NULL || (key != NULL && g_strv_contains (keys, key));
}

void
tpt_canvas_say (TptCanvas *canvas,
                const TptFigureRect *area,
                const char *words)
{
  TptText text = { TPT_COLOR_QUIET, .across = 0.5, .down = 0.5, .wrap = TRUE,
                   .width = MAX (area->width - 2 * canvas->em, 4 * canvas->em) };
  double width, height;

  tpt_canvas_measure (canvas, words, &text, &width, &height);
  text.width = width + 1;
  pango_layout_set_alignment (canvas->layout, PANGO_ALIGN_CENTER);
  tpt_canvas_write (canvas, words, area->x + area->width / 2, area->y + area->height / 2, &text);
  pango_layout_set_alignment (canvas->layout, PANGO_ALIGN_LEFT);
}

void
tpt_canvas_say_rest (TptCanvas *canvas,
                     guint n_rows,
                     double x,
                     double bottom)
{
  TptText text = { TPT_COLOR_QUIET, .size = 0.9, .down = 1 };
  g_autofree char *words = NULL;

  if (n_rows == 0)
    return;
  words = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u more station has no room here",
                                        "%u more stations have no room here", n_rows), n_rows);
  tpt_canvas_write (canvas, words, x, bottom, &text);
}
