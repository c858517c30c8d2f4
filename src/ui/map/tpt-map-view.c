#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-map-ground.h"
#include "tpt-map-view-private.h"
#include "tpt-style.h"

#define REVEAL_MARGIN 32
#define RESOURCES "/io/github/tapetum/Tapetum/map/"

G_DEFINE_FINAL_TYPE (TptMapView, tpt_map_view, GTK_TYPE_WIDGET)

enum {
  PROP_0,
  PROP_SELECTED,
  PROP_PICKING,
  N_PROPS,
};

enum {
  SIGNAL_STATION_SELECTED,
  SIGNAL_STATION_PICKED,
  SIGNAL_STATIONS_CHOSEN,
  SIGNAL_PLACE_PICKED,
  N_SIGNALS,
};

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

TptMapFrame
tpt_map_view_get_frame (TptMapView *self)
{
  return tpt_map_frame_of (self->viewport, gtk_widget_get_width (GTK_WIDGET (self->map)),
                           gtk_widget_get_height (GTK_WIDGET (self->map)));
}

void
tpt_map_view_centre_on_pixel (TptMapView *self, double x, double y)
{
  TptMapFrame frame = tpt_map_view_get_frame (self);
  double latitude, longitude;

  tpt_map_frame_location (&frame, x, y, &latitude, &longitude);
  shumate_map_stop_go_to (self->map);
  shumate_location_set_location (SHUMATE_LOCATION (self->viewport),
                                 CLAMP (latitude, -TPT_MAP_MAX_LATITUDE, TPT_MAP_MAX_LATITUDE), longitude);
}

void
tpt_map_view_reveal (TptMapView *self, int position)
{
  TptMapFrame frame = tpt_map_view_get_frame (self);
  double x, y;

  if (position < 0 || frame.width <= 0)
    return;
  tpt_map_marks_get_pixel (self->marks, (guint) position, &x, &y);
  if (x < REVEAL_MARGIN || y < REVEAL_MARGIN || x > frame.width - REVEAL_MARGIN || y > frame.height - REVEAL_MARGIN)
    tpt_map_view_centre_on_pixel (self, x, y);
}

static char *
make_label (guint n)
{
  if (n == 0)
    return g_strdup (_("Map without stations"));
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Map with %u station", "Map with %u stations", n), n);
}

/* What is under the keyboard's frame, else what is selected. */
static char *
make_description (TptMapView *self)
{
  guint n = tpt_map_marks_get_n_marks (self->marks);
  int cursor = tpt_map_marks_get_cursor (self->marks);
  int selected = tpt_map_marks_find (self->marks, self->selected);
  int at = cursor >= 0 ? cursor : selected;
  g_autofree char *words = NULL;

  if (at < 0)
    return n > 0 ? tpt_map_view_describe_chosen (self) : g_strdup ("");
  words = tpt_map_mark_describe (tpt_map_marks_get (self->marks, (guint) at));
  if (at == selected)
    /* Translators: what is selected, its number and how many there are. */
    return g_strdup_printf (_("Selected: %s. Station %d of %u."), words, at + 1, n);
  return g_strdup_printf (_("%s. Station %d of %u."), words, at + 1, n);
}

void
tpt_map_view_update_words (TptMapView *self)
{
  g_autofree char *label = make_label (tpt_map_marks_get_n_marks (self->marks));
  g_autofree char *description = make_description (self);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description, -1);
}

void
tpt_map_view_emit_selected (TptMapView *self, const char *code)
{
  g_signal_emit (self, signals[SIGNAL_STATION_SELECTED], 0, code);
}

void
tpt_map_view_emit_pointed (TptMapView *self, const char *code, int position)
{
  double px, py, side = tpt_map_marks_get_diameter (self->marks, (guint) position);
  GdkRectangle at;

  tpt_map_marks_get_pixel (self->marks, (guint) position, &px, &py);
  at = (GdkRectangle){ (int) floor (px - side / 2), (int) floor (py - side / 2), (int) ceil (side), (int) ceil (side) };
  g_signal_emit (self, signals[SIGNAL_STATION_PICKED], 0, code, &at);
}

void
tpt_map_view_emit_chosen (TptMapView *self, GStrv codes, gboolean add)
{
  g_signal_emit (self, signals[SIGNAL_STATIONS_CHOSEN], 0, codes, add);
}

void
tpt_map_view_emit_picked (TptMapView *self, double latitude, double longitude)
{
  g_signal_emit (self, signals[SIGNAL_PLACE_PICKED], 0, latitude, longitude);
}

static GPtrArray *
make_marks (TptMapView *self)
{
  TptInstant on = self->on != TPT_NO_INSTANT ? self->on : tpt_instant_now ();

  if (self->places != NULL)
    return tpt_map_marks_of_places (self->places, self->measure);
  if (self->stations != NULL)
    return tpt_map_marks_of_stations (self->stations, self->zone, on);
  return g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_map_mark_free);
}

static void
update_marks (TptMapView *self)
{
  GPtrArray *marks = make_marks (self);

  tpt_map_lines_set_marks (self->lines, marks);
  tpt_map_marks_take (self->marks, marks);
  tpt_map_marks_set_selected (self->marks, tpt_map_marks_find (self->marks, self->selected));
  tpt_map_view_show_legend (self);
  tpt_map_view_update_words (self);
  tpt_map_view_fit_first (self);
}

static void
set_model (TptMapView *self, GListModel **field, GListModel *model)
{
  if (*field != NULL)
    g_signal_handlers_disconnect_by_func (*field, update_marks, self);
  if (model != NULL)
    g_signal_connect_object (model, "items-changed", G_CALLBACK (update_marks), self, G_CONNECT_SWAPPED);
  g_set_object (field, model);
}

/* A turned map would need a turned north, and graticule and names along. */
static void
keep_north_up_cb (ShumateViewport *viewport, GParamSpec *pspec, gpointer data)
{
  if (shumate_viewport_get_rotation (viewport) != 0)
    shumate_viewport_set_rotation (viewport, 0);
}

static void
tpt_map_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TptMapView *self = TPT_MAP_VIEW (widget);

  if (width > 0 && height > 0)
    tpt_map_view_take_size (self, width, height);
  gtk_widget_allocate (GTK_WIDGET (self->overlay), width, height, baseline, NULL);
  tpt_map_view_hide_covered (self);
}

static void
tpt_map_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                      int *minimum_baseline, int *natural_baseline)
{
  gtk_widget_measure (GTK_WIDGET (TPT_MAP_VIEW (widget)->overlay), orientation, for_size, minimum, natural,
                      minimum_baseline, natural_baseline);
}

static void
tpt_map_view_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  TptMapView *self = TPT_MAP_VIEW (object);

  switch (id)
    {
    case PROP_SELECTED:
      g_value_set_string (value, self->selected);
      break;
    case PROP_PICKING:
      g_value_set_boolean (value, self->picking);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_map_view_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  TptMapView *self = TPT_MAP_VIEW (object);

  switch (id)
    {
    case PROP_SELECTED:
      tpt_map_view_set_selected (self, g_value_get_string (value));
      break;
    case PROP_PICKING:
      tpt_map_view_set_picking (self, g_value_get_boolean (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_map_view_dispose (GObject *object)
{
  TptMapView *self = TPT_MAP_VIEW (object);

  set_model (self, &self->stations, NULL);
  set_model (self, &self->places, NULL);
  g_clear_pointer (&self->tracks, g_ptr_array_unref);
  g_clear_handle_id (&self->size_source, g_source_remove);
  tpt_map_view_follow (self, NULL);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_MAP_VIEW);

  G_OBJECT_CLASS (tpt_map_view_parent_class)->dispose (object);
}

static void
tpt_map_view_finalize (GObject *object)
{
  TptMapView *self = TPT_MAP_VIEW (object);

  g_free (self->selected);
  tpt_zone_unref (self->zone);

  G_OBJECT_CLASS (tpt_map_view_parent_class)->finalize (object);
}

static void
install_properties (GObjectClass *object_class)
{
  GParamFlags flags = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY;
  GType type = G_TYPE_FROM_CLASS (object_class);

  properties[PROP_SELECTED] = g_param_spec_string ("selected", NULL, NULL, NULL, flags);
  properties[PROP_PICKING] = g_param_spec_boolean ("picking", NULL, NULL, FALSE, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  signals[SIGNAL_STATION_SELECTED] =
    g_signal_new ("station-selected", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[SIGNAL_STATION_PICKED] =
    g_signal_new ("station-picked", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING,
                  GDK_TYPE_RECTANGLE | G_SIGNAL_TYPE_STATIC_SCOPE);
  signals[SIGNAL_STATIONS_CHOSEN] = g_signal_new ("stations-chosen", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                                  G_TYPE_NONE, 2, G_TYPE_STRV, G_TYPE_BOOLEAN);
  signals[SIGNAL_PLACE_PICKED] = g_signal_new ("place-picked", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                               G_TYPE_NONE, 2, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
}

static void
tpt_map_view_class_init (TptMapViewClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->get_property = tpt_map_view_get_property;
  object_class->set_property = tpt_map_view_set_property;
  object_class->dispose = tpt_map_view_dispose;
  object_class->finalize = tpt_map_view_finalize;
  widget_class->size_allocate = tpt_map_view_size_allocate;
  widget_class->measure = tpt_map_view_measure;
  install_properties (object_class);

  g_type_ensure (SHUMATE_TYPE_MAP);
  g_type_ensure (TPT_TYPE_MAP_SCALE);
  g_type_ensure (TPT_TYPE_MAP_LEGEND);
  gtk_widget_class_set_template_from_resource (widget_class, RESOURCES "tpt-map-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TptMapView, overlay);
  gtk_widget_class_bind_template_child (widget_class, TptMapView, map);
  gtk_widget_class_bind_template_child (widget_class, TptMapView, scale);
  gtk_widget_class_bind_template_child (widget_class, TptMapView, legend);
  gtk_widget_class_bind_template_child (widget_class, TptMapView, legend_toggle);
  gtk_widget_class_bind_template_callback (widget_class, tpt_map_view_show_legend);
  gtk_widget_class_bind_template_child (widget_class, TptMapView, hint);
  gtk_widget_class_bind_template_child (widget_class, TptMapView, tools);
  gtk_widget_class_set_css_name (widget_class, "map-view");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  tpt_map_view_input_class_init (widget_class);
}

static void
add_layers (TptMapView *self)
{
  ShumateLayer *lines = tpt_map_lines_new (self->viewport);
  ShumateLayer *marks = tpt_map_marks_new (self->viewport);

  self->lines = TPT_MAP_LINES (lines);
  self->marks = TPT_MAP_MARKS (marks);
  shumate_map_add_layer (self->map, tpt_map_ground_new (self->viewport));
  shumate_map_add_layer (self->map, lines);
  shumate_map_add_layer (self->map, marks);
}

static void
tpt_map_view_init (TptMapView *self)
{
  g_autoptr (ShumateMapSource) source = tpt_map_source_new ();

  tpt_style_add (RESOURCES "map.css");
  gtk_widget_init_template (GTK_WIDGET (self));
  self->zone = tpt_zone_new ("UTC", NULL);
  self->on = TPT_NO_INSTANT;
  self->viewport = shumate_map_get_viewport (self->map);
  shumate_viewport_set_reference_map_source (self->viewport, source);
  shumate_viewport_set_max_zoom_level (self->viewport, TPT_MAP_MAX_ZOOM);
  shumate_viewport_set_min_zoom_level (self->viewport, TPT_MAP_MIN_ZOOM);
  g_signal_connect_object (self->viewport, "notify::rotation", G_CALLBACK (keep_north_up_cb), self, 0);
  g_signal_connect_object (self->viewport, "notify", G_CALLBACK (tpt_map_view_moved), self, G_CONNECT_SWAPPED);
  add_layers (self);
  tpt_map_scale_set_viewport (self->scale, self->viewport);
  tpt_map_view_input_init (self);
  tpt_map_view_update_words (self);
}

GtkWidget *
tpt_map_view_new (void)
{
  return g_object_new (TPT_TYPE_MAP_VIEW, NULL);
}

void
tpt_map_view_set_tracks (TptMapView *self, GPtrArray *tracks)
{
  g_clear_pointer (&self->tracks, g_ptr_array_unref);
  if (tracks != NULL)
    self->tracks = g_ptr_array_ref (tracks);
  tpt_map_lines_set_tracks (self->lines, tracks);
  tpt_map_view_fit_first (self);
}

void
tpt_map_view_set_stations (TptMapView *self, GListModel *stations)
{
  set_model (self, &self->stations, stations);
  update_marks (self);
}

void
tpt_map_view_set_places (TptMapView *self, GListModel *places)
{
  set_model (self, &self->places, places);
  update_marks (self);
}

void
tpt_map_view_set_measure (TptMapView *self, TptMapMeasure measure)
{
  self->measure = measure;
  tpt_map_legend_set_measure (self->legend, measure);
  update_marks (self);
}

void
tpt_map_view_set_moment (TptMapView *self, TptZone *zone, TptInstant on)
{
  tpt_zone_unref (self->zone);
  self->zone = zone != NULL ? tpt_zone_ref (zone) : tpt_zone_new ("UTC", NULL);
  self->on = on;
  update_marks (self);
}

void
tpt_map_view_set_selected (TptMapView *self, const char *code)
{
  g_autofree char *kept = g_strdup (code);
  int position = tpt_map_marks_find (self->marks, code);
  gboolean is_new = g_strcmp0 (self->selected, code) != 0;

  g_free (self->selected);
  self->selected = g_steal_pointer (&kept);
  tpt_map_marks_set_selected (self->marks, position);
  if (position != tpt_map_marks_get_cursor (self->marks))
    tpt_map_marks_set_cursor (self->marks, -1);
  tpt_map_view_reveal (self, position);
  tpt_map_view_update_words (self);
  if (is_new)
    g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_SELECTED]);
}

const char *
tpt_map_view_get_selected (TptMapView *self)
{
  return self->selected;
}

void
tpt_map_view_set_picking (TptMapView *self, gboolean picking)
{
  if (self->picking == picking)
    return;
  self->picking = picking;
  gtk_widget_set_visible (self->hint, picking);
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self->map), picking ? "crosshair" : NULL);
  tpt_map_marks_set_cross (self->marks, picking);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_PICKING]);
}

gboolean
tpt_map_view_get_picking (TptMapView *self)
{
  return self->picking;
}

