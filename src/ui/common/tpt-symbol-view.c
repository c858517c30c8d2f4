#include "tpt-symbol-view.h"

#include <adwaita.h>
#include <math.h>

#include "tpt-style.h"

struct _TptSymbolView {
  GtkWidget parent_instance;

  TptSymbol symbol;
  int pixel_size;
};

G_DEFINE_FINAL_TYPE (TptSymbolView, tpt_symbol_view, GTK_TYPE_WIDGET)

enum {
  PROP_0,
  PROP_PIXEL_SIZE,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

static void
tpt_symbol_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                         int *minimum_baseline, int *natural_baseline)
{
  *minimum = *natural = TPT_SYMBOL_VIEW (widget)->pixel_size;
}

static void
tpt_symbol_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TptSymbolView *self = TPT_SYMBOL_VIEW (widget);
  double width = gtk_widget_get_width (widget);
  double height = gtk_widget_get_height (widget);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));

  tpt_symbol_draw (cr, &self->symbol, width / 2, height / 2, self->pixel_size, tpt_style_get_palette ());
  cairo_destroy (cr);
}

static void
tpt_symbol_view_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  switch (id)
    {
    case PROP_PIXEL_SIZE:
      g_value_set_int (value, TPT_SYMBOL_VIEW (object)->pixel_size);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_symbol_view_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  switch (id)
    {
    case PROP_PIXEL_SIZE:
      tpt_symbol_view_set_pixel_size (TPT_SYMBOL_VIEW (object), g_value_get_int (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_symbol_view_class_init (TptSymbolViewClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->get_property = tpt_symbol_view_get_property;
  object_class->set_property = tpt_symbol_view_set_property;
  widget_class->measure = tpt_symbol_view_measure;
  widget_class->snapshot = tpt_symbol_view_snapshot;

  properties[PROP_PIXEL_SIZE] =
    g_param_spec_int ("pixel-size", NULL, NULL, 12, 256, 26, G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  gtk_widget_class_set_css_name (widget_class, "symbol");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
tpt_symbol_view_init (TptSymbolView *self)
{
  self->pixel_size = 26;
  tpt_symbol_view_set_symbol (self, (TptSymbol) { NAN, NAN, TPT_STATE_UNKNOWN });
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark", G_CALLBACK (gtk_widget_queue_draw), self,
                           G_CONNECT_SWAPPED);
}

GtkWidget *
tpt_symbol_view_new (void)
{
  return g_object_new (TPT_TYPE_SYMBOL_VIEW, NULL);
}

void
tpt_symbol_view_set_symbol (TptSymbolView *self, TptSymbol symbol)
{
  g_autofree char *words = tpt_symbol_describe (&symbol);

  self->symbol = symbol;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
tpt_symbol_view_set_pixel_size (TptSymbolView *self, int size)
{
  if (self->pixel_size == size)
    return;
  self->pixel_size = size;
  gtk_widget_queue_resize (GTK_WIDGET (self));
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_PIXEL_SIZE]);
}
