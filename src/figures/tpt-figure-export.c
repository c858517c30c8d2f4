#include "config.h"

#include "tpt-error.h"
#include "tpt-figure-private.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <glib/gi18n-lib.h>
#include <string.h>

/* A surface of this side takes 400 MB; what is larger is a slip of the finger. */
#define MAX_PIXELS 10000

static cairo_status_t
append_cb (void *closure,
           const unsigned char *data,
           unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static void
draw_on (TptFigure *figure,
         cairo_surface_t *surface,
         const TptFigureSize *size,
         const TptFigureStyle *style,
         double scale)
{
  cairo_t *cr = cairo_create (surface);

  cairo_scale (cr, scale, scale);
  tpt_palette_set (style->palette, cr, TPT_COLOR_PAPER, 1);
  cairo_paint (cr);
  tpt_figure_draw (figure, cr, size->width, size->height, style);
  cairo_destroy (cr);
}

static void
render_png (TptFigure *figure,
            const TptFigureSize *size,
            const TptFigureStyle *style,
            GByteArray *bytes)
{
  double scale = size->dpi / 96;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32,
                                                         (int) round (size->width * scale),
                                                         (int) round (size->height * scale));

  draw_on (figure, surface, size, style, scale);
  cairo_surface_write_to_png_stream (surface, append_cb, bytes);
  cairo_surface_destroy (surface);
  if (bytes->len > 0)
    tpt_png_set_dpi (bytes, size->dpi);
}

static void
render_svg (TptFigure *figure,
            const TptFigureSize *size,
            const TptFigureStyle *style,
            GByteArray *bytes)
{
  g_autoptr (GByteArray) raw = g_byte_array_new ();
  g_autofree char *words = tpt_figure_describe (figure);
  g_autofree char *tidy = NULL;
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream (append_cb, raw, size->width, size->height);

  cairo_svg_surface_set_document_unit (surface, CAIRO_SVG_UNIT_PX);
  draw_on (figure, surface, size, style, 1);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);

  tidy = tpt_svg_tidy ((const char *) raw->data, raw->len, tpt_figure_get_caption (figure)->title, words);
  g_byte_array_append (bytes, (const guint8 *) tidy, strlen (tidy));
}

static void
set_date (cairo_surface_t *surface,
          TptInstant created)
{
  g_autofree char *text = tpt_instant_format (created - created % TPT_SECOND, NULL);

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, text);
}

/* Without a date of ours cairo puts the clock's, whose length depends on the
 * machine's zone; a fixed one is blanked to the same length everywhere. */
void
tpt_pdf_fix_date (cairo_surface_t *surface)
{
  set_date (surface, 0);
}

/* In place, which keeps every offset of the file. */
void
tpt_pdf_blank_date (GByteArray *bytes)
{
  const char key[] = "/CreationDate (";
  guint8 *found = memmem (bytes->data, bytes->len, key, strlen (key));
  guint8 *end = found != NULL ? memchr (found, ')', bytes->data + bytes->len - found) : NULL;

  if (end != NULL)
    memset (found, ' ', end + 1 - found);
}

static void
render_pdf (TptFigure *figure,
            const TptFigureSize *size,
            const TptFigureStyle *style,
            GByteArray *bytes)
{
  const double points = 72.0 / 96.0;
  const char *title = tpt_figure_get_caption (figure)->title;
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (append_cb, bytes, size->width * points,
                                                                  size->height * points);

  if (title != NULL)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, title);
  if (size->created != TPT_NO_INSTANT)
    set_date (surface, size->created);
  else
    tpt_pdf_fix_date (surface);
  draw_on (figure, surface, size, style, points);
  cairo_surface_finish (surface);
  cairo_surface_destroy (surface);

  if (size->created == TPT_NO_INSTANT)
    tpt_pdf_blank_date (bytes);
}

typedef void (*RenderFunc) (TptFigure *figure, const TptFigureSize *size, const TptFigureStyle *style,
                            GByteArray *bytes);

static RenderFunc
find_renderer (const char *path,
               GError **error)
{
  static const struct {
    const char *ending;
    RenderFunc render;
  } forms[] = { { ".png", render_png }, { ".svg", render_svg }, { ".pdf", render_pdf } };
  g_autofree char *lower = g_ascii_strdown (path, -1);

  for (guint i = 0; i < G_N_ELEMENTS (forms); i++)
    if (g_str_has_suffix (lower, forms[i].ending))
      return forms[i].render;

  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE,
               _("A figure is written as .png, .svg or .pdf; “%s” ends in none of these."), path);
  return NULL;
}

static gboolean
check_size (const TptFigureSize *size,
            GError **error)
{
  double scale = MAX (size->dpi, 96) / 96;

  if (size->width >= 1 && size->height >= 1 && size->dpi >= 1 &&
      size->width * scale <= MAX_PIXELS && size->height * scale <= MAX_PIXELS)
    return TRUE;

  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE,
               _("A figure can be 1 to %d pixels wide and high."), MAX_PIXELS);
  return FALSE;
}

gboolean
tpt_figure_export (TptFigure *figure,
                   const char *path,
                   const TptFigureSize *size,
                   const TptFigureStyle *style,
                   GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  RenderFunc render = find_renderer (path, error);
  TptFigureSize full = *size;

  if (render == NULL)
    return FALSE;
  if (full.height == 0 && full.width >= 1)
    full.height = tpt_figure_preferred_height (figure, full.width, style);
  if (!check_size (&full, error))
    return FALSE;

  render (figure, &full, style, bytes);
  if (bytes->len == 0)
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_IO, _("There was not enough memory to draw the figure."));
      return FALSE;
    }

  return tpt_file_replace (path, bytes->data, bytes->len, error);
}

static gboolean
parse_pair (const char *text,
            TptFigureSize *size)
{
  double unit = g_str_has_suffix (text, "mm") ? 96 / 25.4 : 1;
  char *end;
  double width = g_ascii_strtod (text, &end);
  double height;

  if (end == text || *end != 'x')
    return FALSE;
  text = end + 1;
  height = g_ascii_strtod (text, &end);
  if (end == text || !(g_str_equal (end, "") || g_str_equal (end, "mm") || g_str_equal (end, "px")))
    return FALSE;
  if (!(width > 0 && height > 0 && width * unit <= MAX_PIXELS && height * unit <= MAX_PIXELS))
    return FALSE;

  size->width = width * unit;
  size->height = height * unit;
  return TRUE;
}

gboolean
tpt_figure_size_parse (const char *text,
                       TptFigureSize *size,
                       GError **error)
{
  /* A column of a two-column A4 page, its text width, a full slide, a phone held upright. */
  static const struct {
    const char *name;
    double width;
    double height;
  } named[] = {
    { "column", 85 * 96 / 25.4, 0 },
    { "page", 170 * 96 / 25.4, 0 },
    { "slide", 1280, 720 },
    { "phone", 390, 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (named); i++)
    if (g_str_equal (text, named[i].name))
      {
        size->width = named[i].width;
        size->height = named[i].height;
        return TRUE;
      }
  if (parse_pair (text, size))
    return TRUE;

  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE,
               _("“%s” is no size. Give column, page, slide or phone, or width and height such as 800x600 or 170x120mm."),
               text);
  return FALSE;
}
