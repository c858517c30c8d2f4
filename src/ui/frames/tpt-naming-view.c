#include "config.h"

#include "tpt-naming-view.h"

#include <glib/gi18n-lib.h>

#include "tpt-naming-private.h"
#include "tpt-settings.h"
#include "tpt-style.h"

#define SCROLL_AFTER_MS 60 /* when the form has been laid out */

G_DEFINE_FINAL_TYPE (TptNamingView, tpt_naming_view, GTK_TYPE_WIDGET)

enum {
  PROP_0,
  PROP_POSITION,
  PROP_PERSON,
  N_PROPS,
};

enum {
  SIGNAL_BACK,
  N_SIGNALS,
};

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

void
tpt_naming_notify_position (TptNamingView *self)
{
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_POSITION]);
}

void
tpt_naming_back (TptNamingView *self)
{
  tpt_naming_flush_details (self);
  g_signal_emit (self, signals[SIGNAL_BACK], 0);
}

/* --- from the buttons ------------------------------------------------------- */

static void
before_cb (TptNamingView *self)
{
  tpt_naming_step (self, -1);
}

static void
after_cb (TptNamingView *self)
{
  tpt_naming_step (self, 1);
}

static void
zoom_cb (TptNamingView *self)
{
  tpt_frame_view_set_zoom (self->view, tpt_frame_view_get_zoom (self->view) == 0 ? 1 : 0);
}

static void
zoomed_cb (TptNamingView *self)
{
  static const char *const words[] = { N_("Zoom: fitted"), N_("Zoom: 100 %"), N_("Zoom: 200 %") };
  int zoom = tpt_frame_view_get_zoom (self->view);

  tpt_key_button_set_text (self->zoom, _(words[zoom]), NULL);
  tpt_key_button_set_held (self->zoom, zoom > 0);
}

static void
lift_cb (TptNamingView *self)
{
  tpt_naming_set_lift_dark (self, !tpt_settings_get_flag ("lift-dark"));
}

static void
named_cb (TptNamingView *self, const char *species)
{
  tpt_naming_decide (self, "animal", species);
}

static void
typed_cb (TptNamingView *self, const char *type)
{
  tpt_naming_decide (self, type, NULL);
}

static void
also_cb (TptNamingView *self)
{
  tpt_naming_set_also (self, !self->also);
}

static void
left_cb (TptNamingView *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->view));
}

void
tpt_naming_free_keys (TptNamingView *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  tpt_name_pad_end_search (self->pad);
  if (focus != NULL && (gtk_widget_is_ancestor (focus, GTK_WIDGET (self->pad)) ||
                        gtk_widget_is_ancestor (focus, GTK_WIDGET (self->details))))
    left_cb (self);
}

/* A form that opens below the edge of a low window would seem not to have opened. */
static gboolean
scroll_cb (gpointer data)
{
  g_autoptr (TptNamingView) self = data;
  GtkAdjustment *along;

  if (self->panel == NULL)
    return G_SOURCE_REMOVE;
  along = gtk_scrolled_window_get_vadjustment (self->panel);
  if (gtk_revealer_get_reveal_child (self->details_revealer))
    gtk_adjustment_set_value (along, gtk_adjustment_get_upper (along));
  else
    gtk_adjustment_set_value (along, 0);
  return G_SOURCE_REMOVE;
}

void
tpt_naming_toggle_details (TptNamingView *self)
{
  gboolean open = !gtk_revealer_get_reveal_child (self->details_revealer);

  gtk_revealer_set_reveal_child (self->details_revealer, open);
  tpt_key_button_set_held (self->details_button, open);
  tpt_settings_set_flag ("naming-details", open);
  g_timeout_add (SCROLL_AFTER_MS, scroll_cb, g_object_ref (self));
}

static void
retry_cb (TptNamingView *self)
{
  tpt_decider_retry (self->decider);
  tpt_naming_show_trouble (self);
}

static void
give_up_cb (TptNamingView *self)
{
  tpt_decider_give_up (self->decider);
}

/* --- the object ----------------------------------------------------------------- */

static gboolean
tpt_naming_view_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (GTK_WIDGET (TPT_NAMING_VIEW (widget)->view));
}

static void
tpt_naming_view_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  TptNamingView *self = TPT_NAMING_VIEW (object);

  switch (id)
    {
    case PROP_POSITION:
      g_value_set_uint (value, self->position);
      break;
    case PROP_PERSON:
      g_value_set_string (value, self->person);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_naming_view_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  switch (id)
    {
    case PROP_PERSON:
      tpt_naming_view_set_person (TPT_NAMING_VIEW (object), g_value_get_string (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_naming_view_dispose (GObject *object)
{
  TptNamingView *self = TPT_NAMING_VIEW (object);

  if (self->view != NULL)
    tpt_naming_view_set_project (self, NULL);
  g_clear_handle_id (&self->resize_source, g_source_remove);
  g_clear_handle_id (&self->amend_source, g_source_remove);
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_NAMING_VIEW);

  G_OBJECT_CLASS (tpt_naming_view_parent_class)->dispose (object);
}

static void
tpt_naming_view_finalize (GObject *object)
{
  TptNamingView *self = TPT_NAMING_VIEW (object);

  g_array_unref (self->starts);
  g_array_unref (self->history);
  g_clear_pointer (&self->last, tpt_decision_free);
  g_clear_pointer (&self->query, tpt_frame_query_free);
  g_free (self->last_words);
  g_free (self->key);
  g_free (self->person);

  G_OBJECT_CLASS (tpt_naming_view_parent_class)->finalize (object);
}

static void
add_properties (GObjectClass *object_class)
{
  object_class->get_property = tpt_naming_view_get_property;
  object_class->set_property = tpt_naming_view_set_property;
  properties[PROP_POSITION] =
    g_param_spec_uint ("position", NULL, NULL, 0, G_MAXUINT, 0, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  properties[PROP_PERSON] = g_param_spec_string ("person", NULL, NULL, NULL,
                                                 G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child_full (widget_class, "outer", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, title);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, light);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, score);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, place);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, trouble);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, trouble_text);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, words);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, damage);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, view);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, strip);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, zoom);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, lift);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, lift_amount);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, guests);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, said);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, pad);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, panel);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, details_button);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, details_revealer);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, details_words);
  gtk_widget_class_bind_template_child (widget_class, TptNamingView, details);
}

static void
bind_callbacks (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_callback (widget_class, before_cb);
  gtk_widget_class_bind_template_callback (widget_class, after_cb);
  gtk_widget_class_bind_template_callback (widget_class, zoom_cb);
  gtk_widget_class_bind_template_callback (widget_class, zoomed_cb);
  gtk_widget_class_bind_template_callback (widget_class, lift_cb);
  gtk_widget_class_bind_template_callback (widget_class, named_cb);
  gtk_widget_class_bind_template_callback (widget_class, typed_cb);
  gtk_widget_class_bind_template_callback (widget_class, also_cb);
  gtk_widget_class_bind_template_callback (widget_class, left_cb);
  gtk_widget_class_bind_template_callback (widget_class, retry_cb);
  gtk_widget_class_bind_template_callback (widget_class, give_up_cb);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_back);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_next_undecided);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_load_whole);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_apply_lift);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_mark);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_choose_frame);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_split);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_join);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_take_back);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_take_back_all);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_settle);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_repeat);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_add_species);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_toggle_details);
  gtk_widget_class_bind_template_callback (widget_class, tpt_naming_details_changed);
}

static void
tpt_naming_view_class_init (TptNamingViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_naming_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_naming_view_finalize;
  widget_class->grab_focus = tpt_naming_view_grab_focus;
  add_properties (G_OBJECT_CLASS (klass));
  signals[SIGNAL_BACK] =
    g_signal_new ("back", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  g_type_ensure (TPT_TYPE_DETAILS_FORM);
  g_type_ensure (TPT_TYPE_FRAME_STRIP);
  g_type_ensure (TPT_TYPE_FRAME_VIEW);
  g_type_ensure (TPT_TYPE_KEY_BUTTON);
  g_type_ensure (TPT_TYPE_NAME_PAD);
  g_type_ensure (TPT_TYPE_SAID_LIST);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/frames/tpt-naming-view.ui");
  bind_children (widget_class);
  bind_callbacks (widget_class);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_naming_view_init (TptNamingView *self)
{
  self->starts = g_array_new (FALSE, FALSE, sizeof (guint));
  self->history = g_array_new (FALSE, FALSE, sizeof (TptNamingPast));
  self->undecided = -1;
  tpt_style_add ("/io/github/tapetum/Tapetum/frames/frames.css");
  gtk_widget_init_template (GTK_WIDGET (self));
  tpt_naming_add_keys (self);
  tpt_key_button_set_held (self->lift, tpt_settings_get_flag ("lift-dark"));
  gtk_revealer_set_reveal_child (self->details_revealer, tpt_settings_get_flag ("naming-details"));
  tpt_key_button_set_held (self->details_button, tpt_settings_get_flag ("naming-details"));
  zoomed_cb (self);
  tpt_naming_show_trigger (self);
}

TptNamingView *
tpt_naming_view_new (void)
{
  return g_object_new (TPT_TYPE_NAMING_VIEW, NULL);
}

void
tpt_naming_view_set_project (TptNamingView *self, TptProject *project)
{
  if (self->project == project)
    return;
  tpt_naming_let_go_of_project (self);
  tpt_naming_let_go_of_list (self);
  g_clear_pointer (&self->last, tpt_decision_free);
  tpt_name_pad_set_again (self->pad, NULL);
  tpt_name_pad_set_names (self->pad, NULL);
  self->undecided = -1;
  if (project != NULL)
    tpt_naming_take_project (self, project);
  tpt_naming_show_trigger (self);
  tpt_naming_show_trouble (self);
}

void
tpt_naming_view_show (TptNamingView *self, TptFrameList *list, guint position)
{
  if (list != self->list)
    {
      tpt_naming_let_go_of_list (self);
      self->list = g_object_ref (list);
      g_signal_connect_swapped (list, "items-changed", G_CALLBACK (tpt_naming_list_changed), self);
      self->position = position;
      self->ref = tpt_frame_list_get_ref (list, position);
      tpt_naming_list_changed (self);
    }
  tpt_naming_go (self, position);
}

guint
tpt_naming_view_get_position (TptNamingView *self)
{
  return self->position;
}

void
tpt_naming_view_set_undecided (TptNamingView *self, gint64 undecided)
{
  self->undecided = undecided;
  tpt_naming_show_place (self);
}

void
tpt_naming_view_set_query (TptNamingView *self, const TptFrameQuery *query)
{
  g_clear_pointer (&self->query, tpt_frame_query_free);
  self->query = query != NULL ? tpt_frame_query_copy (query) : NULL;
}

void
tpt_naming_view_set_person (TptNamingView *self, const char *name)
{
  const char *by = name != NULL && name[0] != '\0' ? name : NULL;

  if (g_strcmp0 (self->person, by) == 0)
    return;
  tpt_naming_flush_details (self);
  g_free (self->person);
  self->person = g_strdup (by);
  if (self->rows != NULL)
    tpt_naming_show_said (self);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_PERSON]);
}

const char *
tpt_naming_view_get_person (TptNamingView *self)
{
  return self->person;
}
