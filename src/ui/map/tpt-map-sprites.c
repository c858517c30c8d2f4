#include "tpt-map-sprites.h"

#include <math.h>

#include "tpt-map-frame.h"
#include "tpt-style.h"

#define HALO_WIDTH 3.5
#define NAME_SCALE 0.92
#define NUMBER_SCALE 0.78

/* Steps in which a half ring empties: finer ones cannot be told apart. */
#define RING_STEPS 24

struct _TptMapSprites {
  GtkWidget *widget; /* (not owned) */
  GHashTable *kept;  /* (owned) (element-type utf8 TptMapSprite) */
  TptPalette palette;
  int scale;
};

static void
free_sprite (gpointer data)
{
  TptMapSprite *sprite = data;

  g_object_unref (sprite->texture);
  g_free (sprite);
}

TptMapSprites *
tpt_map_sprites_new (GtkWidget *widget)
{
  TptMapSprites *self = g_new0 (TptMapSprites, 1);

  self->widget = widget;
  self->kept = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, free_sprite);
  return self;
}

void
tpt_map_sprites_free (TptMapSprites *self)
{
  g_hash_table_unref (self->kept);
  g_free (self);
}

void
tpt_map_sprites_forget (TptMapSprites *self)
{
  g_hash_table_remove_all (self->kept);
}

/* (nullable) (transfer none): what is kept under @key for the colours and the
 * scale of now. */
static TptMapSprite *
find_kept (TptMapSprites *self, const char *key)
{
  TptPalette palette = tpt_style_get_palette ();
  int scale = gtk_widget_get_scale_factor (self->widget);

  if (palette != self->palette || scale != self->scale)
    tpt_map_sprites_forget (self);
  self->palette = palette;
  self->scale = scale;
  return g_hash_table_lookup (self->kept, key);
}

static GdkTexture *
make_texture (cairo_surface_t *surface)
{
  int height = cairo_image_surface_get_height (surface);
  int stride = cairo_image_surface_get_stride (surface);
  g_autoptr (GBytes) bytes = NULL;

  cairo_surface_flush (surface);
  bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface), (gsize) height * stride,
                                      (GDestroyNotify) cairo_surface_destroy, cairo_surface_reference (surface));
  return gdk_memory_texture_new (cairo_image_surface_get_width (surface), height, GDK_MEMORY_DEFAULT, bytes, stride);
}

static cairo_surface_t *
make_surface (TptMapSprites *self, double width, double height)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, (int) ceil (width) * self->scale,
                                                         (int) ceil (height) * self->scale);

  cairo_surface_set_device_scale (surface, self->scale, self->scale);
  return surface;
}

/* Takes @key and @surface. */
static TptMapSprite
keep (TptMapSprites *self, char *key, cairo_surface_t *surface)
{
  TptMapSprite *sprite = g_new0 (TptMapSprite, 1);

  sprite->texture = make_texture (surface);
  sprite->width = gdk_texture_get_width (sprite->texture) / self->scale;
  sprite->height = gdk_texture_get_height (sprite->texture) / self->scale;
  cairo_surface_destroy (surface);
  g_hash_table_insert (self->kept, key, sprite);
  return *sprite;
}

static int
quantize (double share)
{
  return isnan (share) ? -1 : (int) lround (CLAMP (share, 0, 1) * RING_STEPS);
}

static double
dequantize (int step)
{
  return step < 0 ? NAN : (double) step / RING_STEPS;
}

static void
draw_station (TptMapSprites *self, cairo_t *cr, const TptMapMark *mark, double middle)
{
  TptSymbol symbol = {
    .energy = dequantize (quantize (mark->symbol.energy)),
    .card = dequantize (quantize (mark->symbol.card)),
    .state = mark->symbol.state,
  };

  /* On a plate, so that lines below do not run into the rings. */
  tpt_palette_set (self->palette, cr, TPT_COLOR_PAPER, 1);
  cairo_arc (cr, middle, middle, mark->diameter / 2, 0, 2 * G_PI);
  cairo_fill (cr);
  tpt_symbol_draw (cr, &symbol, middle, middle, mark->diameter, self->palette);
}

static void
draw_symbol (TptMapSprites *self, cairo_t *cr, const TptMapMark *mark, double middle)
{
  switch (mark->kind)
    {
    case TPT_MARK_STATION:
      draw_station (self, cr, mark, middle);
      break;
    case TPT_MARK_SEEN:
      tpt_symbol_draw_seen (cr, middle, middle, mark->diameter, self->palette);
      break;
    case TPT_MARK_NOT_SEEN:
      tpt_symbol_draw_not_seen (cr, middle, middle, mark->diameter, self->palette);
      break;
    case TPT_MARK_NOT_WORKED:
    default:
      tpt_symbol_draw_not_worked (cr, middle, middle, mark->diameter, self->palette);
    }
}

TptMapSprite
tpt_map_sprites_get_symbol (TptMapSprites *self, const TptMapMark *mark)
{
  g_autofree char *key = g_strdup_printf ("symbol %d %d %d %d %.0f", mark->kind, mark->symbol.state,
                                          quantize (mark->symbol.energy), quantize (mark->symbol.card), mark->diameter);
  TptMapSprite *kept = find_kept (self, key);
  double side = ceil (mark->diameter) + 2;
  cairo_surface_t *surface;
  cairo_t *cr;

  if (kept != NULL)
    return *kept;

  surface = make_surface (self, side, side);
  cr = cairo_create (surface);
  draw_symbol (self, cr, mark, side / 2);
  cairo_destroy (cr);
  return keep (self, g_steal_pointer (&key), surface);
}

static PangoLayout *
make_layout (TptMapSprites *self, const char *words, double scale, gboolean bold)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (self->widget, words);
  PangoAttrList *attributes = pango_attr_list_new ();

  pango_attr_list_insert (attributes, pango_attr_scale_new (scale));
  pango_attr_list_insert (attributes, pango_attr_weight_new (bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_SEMIBOLD));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
  return layout;
}

static void
draw_halo (TptMapSprites *self, cairo_t *cr, PangoLayout *layout)
{
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (cr, HALO_WIDTH);
  tpt_palette_set (self->palette, cr, TPT_COLOR_GROUND, 0.9);
  pango_cairo_layout_path (cr, layout);
  cairo_stroke (cr);
}

/* Takes @key. */
static TptMapSprite
draw_words (TptMapSprites *self, char *key, PangoLayout *layout, TptColorRole ink, double halo)
{
  int width, height;
  cairo_surface_t *surface;
  cairo_t *cr;

  pango_layout_get_pixel_size (layout, &width, &height);
  surface = make_surface (self, width + 2 * halo, height + 2 * halo);
  cr = cairo_create (surface);
  cairo_move_to (cr, halo, halo);
  if (halo > 0)
    draw_halo (self, cr, layout);
  cairo_move_to (cr, halo, halo);
  tpt_palette_set (self->palette, cr, ink, 1);
  pango_cairo_show_layout (cr, layout);
  cairo_destroy (cr);
  return keep (self, key, surface);
}

TptMapSprite
tpt_map_sprites_get_name (TptMapSprites *self, const char *name, gboolean bold)
{
  g_autofree char *key = g_strdup_printf ("name %d %s", bold, name);
  TptMapSprite *kept = find_kept (self, key);
  g_autoptr (PangoLayout) layout = NULL;

  if (kept != NULL)
    return *kept;
  layout = make_layout (self, name, NAME_SCALE, bold);
  return draw_words (self, g_steal_pointer (&key), layout, TPT_COLOR_INK, ceil (HALO_WIDTH / 2));
}

TptMapSprite
tpt_map_sprites_get_number (TptMapSprites *self, const char *number)
{
  g_autofree char *key = g_strdup_printf ("number %s", number);
  TptMapSprite *kept = find_kept (self, key);
  g_autoptr (PangoLayout) layout = NULL;

  if (kept != NULL)
    return *kept;
  layout = make_layout (self, number, NUMBER_SCALE, TRUE);
  return draw_words (self, g_steal_pointer (&key), layout, TPT_COLOR_ON_ACCENT, 0);
}
