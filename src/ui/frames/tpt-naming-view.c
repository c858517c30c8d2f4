#include "config.h"

#include "tpt-naming-view.h"

#include "tpt-style.h"

struct _TptNamingView {
  GtkWidget parent_instance;

  TptProject *project; /* (owned) (nullable) */
  TptFrameList *list;  /* (owned) (nullable) */
  guint position;
  gint64 undecided;    /* -1 unknown */
  char *person;        /* (owned) (nullable) */
};

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

static void
back_cb (TptNamingView *self)
{
  g_signal_emit (self, signals[SIGNAL_BACK], 0);
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
  tpt_naming_view_set_project (TPT_NAMING_VIEW (object), NULL);
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_NAMING_VIEW);

  G_OBJECT_CLASS (tpt_naming_view_parent_class)->dispose (object);
}

static void
tpt_naming_view_finalize (GObject *object)
{
  g_free (TPT_NAMING_VIEW (object)->person);

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
tpt_naming_view_class_init (TptNamingViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_naming_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_naming_view_finalize;
  add_properties (G_OBJECT_CLASS (klass));
  signals[SIGNAL_BACK] =
    g_signal_new ("back", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/frames/tpt-naming-view.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "outer", FALSE, 0);
  gtk_widget_class_bind_template_callback (widget_class, back_cb);
  gtk_widget_class_add_binding_signal (widget_class, GDK_KEY_Escape, 0, "back", NULL);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_naming_view_init (TptNamingView *self)
{
  tpt_style_add ("/io/github/tapetum/Tapetum/frames/frames.css");
  gtk_widget_init_template (GTK_WIDGET (self));
  self->undecided = -1;
}

TptNamingView *
tpt_naming_view_new (void)
{
  return g_object_new (TPT_TYPE_NAMING_VIEW, NULL);
}

void
tpt_naming_view_set_project (TptNamingView *self, TptProject *project)
{
  g_clear_object (&self->list);
  g_set_object (&self->project, project);
}

void
tpt_naming_view_show (TptNamingView *self, TptFrameList *list, guint position)
{
  g_set_object (&self->list, list);
  self->position = position;
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_POSITION]);
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
}

void
tpt_naming_view_set_person (TptNamingView *self, const char *name)
{
  if (g_strcmp0 (self->person, name) == 0)
    return;
  g_free (self->person);
  self->person = g_strdup (name);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_PERSON]);
}

const char *
tpt_naming_view_get_person (TptNamingView *self)
{
  return self->person;
}
