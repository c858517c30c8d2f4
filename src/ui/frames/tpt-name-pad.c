#include "config.h"

#include "tpt-name-pad.h"

#include <glib/gi18n-lib.h>

#include "tpt-key-button.h"
#include "tpt-words.h"

struct _TptNamePad {
  GtkWidget parent_instance;

  GtkSearchEntry *search;
  GtkBox *names;
  GtkLabel *none;
  GtkButton *add;
  GtkLabel *add_text;
  TptKeyButton *again;
  TptKeyButton *also;
  TptKeyButton *take_back;

  TptKeyButton *buttons[TPT_NAME_PAD_DIGITS];
  GPtrArray *ranked; /* (owned) (nullable) (element-type TptName) */
  GPtrArray *shown;  /* (owned) (nullable): those found, or all */
};

G_DEFINE_FINAL_TYPE (TptNamePad, tpt_name_pad, GTK_TYPE_WIDGET)

enum {
  SIGNAL_NAMED,
  SIGNAL_TYPED,
  SIGNAL_AGAIN,
  SIGNAL_ALSO,
  SIGNAL_TAKEN_BACK,
  SIGNAL_MISSING,
  SIGNAL_LEFT,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static const char *
get_title (const TptName *name)
{
  return name->common != NULL ? name->common : name->species;
}

/* How often, in words: why a name stands where it does. */
static char *
word_rank (const TptName *name)
{
  g_autofree char *here = tpt_words_number ((double) name->here);
  g_autofree char *station = tpt_words_number ((double) name->station);
  g_autofree char *project = tpt_words_number ((double) name->project);

  return g_strdup_printf (_("%1$s. Named at this station within two hours of this time of day: %2$s; at any time: %3$s; in the "
                            "project: %4$s."),
                          name->species, here, station, project);
}

static void
show_button (TptKeyButton *button, const TptName *name)
{
  g_autofree char *rank = word_rank (name);

  tpt_key_button_set_text (button, get_title (name), name->common != NULL ? name->species : NULL);
  gtk_widget_set_tooltip_text (GTK_WIDGET (button), rank);
}

static const char *
get_text (TptNamePad *self)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->search));
}

static void
show_none (TptNamePad *self)
{
  gboolean none = self->shown == NULL || self->shown->len == 0;
  gboolean searched = get_text (self)[0] != '\0';
  g_autofree char *text = tpt_words_shorten (get_text (self));
  g_autofree char *add = g_strdup_printf (_("Add “%s” as a species…"), text);

  gtk_label_set_label (self->none, searched ? _("No species on this project’s list has a name like that.")
                                            : _("This project has no species on its list yet. Type a scientific name to add one."));
  gtk_widget_set_visible (GTK_WIDGET (self->none), none);
  gtk_label_set_label (self->add_text, add);
  gtk_widget_set_visible (GTK_WIDGET (self->add), none && searched);
}

static void
show_names (TptNamePad *self)
{
  guint n = self->shown != NULL ? self->shown->len : 0;

  for (guint i = 0; i < TPT_NAME_PAD_DIGITS; i++)
    {
      gtk_widget_set_visible (GTK_WIDGET (self->buttons[i]), i < n);
      if (i < n)
        show_button (self->buttons[i], self->shown->pdata[i]);
    }
  show_none (self);
}

static void
search_names (TptNamePad *self)
{
  const char *text = get_text (self);

  g_clear_pointer (&self->shown, g_ptr_array_unref);
  if (self->ranked != NULL)
    self->shown = text[0] != '\0' ? tpt_names_search (self->ranked, text) : g_ptr_array_ref (self->ranked);
  show_names (self);
}

/* What was chosen may be freed by whoever listens: the text is held meanwhile. */
static void
choose (TptNamePad *self, guint place)
{
  g_autofree char *species = NULL;

  if (self->shown == NULL || place >= self->shown->len)
    return;
  species = g_strdup (((const TptName *) self->shown->pdata[place])->species);
  tpt_name_pad_end_search (self);
  g_signal_emit (self, signals[SIGNAL_NAMED], 0, species);
}

static void
name_cb (TptNamePad *self, GtkWidget *button)
{
  for (guint i = 0; i < TPT_NAME_PAD_DIGITS; i++)
    if (GTK_WIDGET (self->buttons[i]) == button)
      {
        choose (self, i);
        return;
      }
}

static void
searched_cb (TptNamePad *self)
{
  search_names (self);
}

static void
add_cb (TptNamePad *self)
{
  g_autofree char *text = g_strstrip (g_strdup (get_text (self)));

  if (text[0] != '\0')
    g_signal_emit (self, signals[SIGNAL_MISSING], 0, text);
}

static void
activated_cb (TptNamePad *self)
{
  search_names (self);
  if (get_text (self)[0] == '\0')
    tpt_name_pad_end_search (self);
  else if (self->shown != NULL && self->shown->len > 0)
    choose (self, 0);
  else
    add_cb (self);
}

static void
say_type (TptNamePad *self, const char *type)
{
  tpt_name_pad_end_search (self);
  g_signal_emit (self, signals[SIGNAL_TYPED], 0, type);
}

static void
blank_cb (TptNamePad *self)
{
  say_type (self, "blank");
}

static void
human_cb (TptNamePad *self)
{
  say_type (self, "human");
}

static void
vehicle_cb (TptNamePad *self)
{
  say_type (self, "vehicle");
}

static void
unknown_cb (TptNamePad *self)
{
  say_type (self, "unknown");
}

static void
again_cb (TptNamePad *self)
{
  g_signal_emit (self, signals[SIGNAL_AGAIN], 0);
}

static void
also_cb (TptNamePad *self)
{
  g_signal_emit (self, signals[SIGNAL_ALSO], 0);
}

static void
take_back_cb (TptNamePad *self)
{
  g_signal_emit (self, signals[SIGNAL_TAKEN_BACK], 0);
}

static void
tpt_name_pad_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_NAME_PAD);

  G_OBJECT_CLASS (tpt_name_pad_parent_class)->dispose (object);
}

static void
tpt_name_pad_finalize (GObject *object)
{
  TptNamePad *self = TPT_NAME_PAD (object);

  g_clear_pointer (&self->ranked, g_ptr_array_unref);
  g_clear_pointer (&self->shown, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_name_pad_parent_class)->finalize (object);
}

static void
add_signals (GType type)
{
  static const struct {
    const char *name;
    gboolean with_text;
  } all[N_SIGNALS] = {
    [SIGNAL_NAMED] = { "named", TRUE },   [SIGNAL_TYPED] = { "typed", TRUE },
    [SIGNAL_AGAIN] = { "again", FALSE },  [SIGNAL_ALSO] = { "also", FALSE },
    [SIGNAL_LEFT] = { "left", FALSE },    [SIGNAL_TAKEN_BACK] = { "taken-back", FALSE },
    [SIGNAL_MISSING] = { "missing", TRUE },
  };

  for (guint i = 0; i < N_SIGNALS; i++)
    signals[i] = g_signal_new (all[i].name, type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                               all[i].with_text ? 1 : 0, G_TYPE_STRING);
}

static void
tpt_name_pad_class_init (TptNamePadClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_name_pad_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_name_pad_finalize;
  add_signals (G_TYPE_FROM_CLASS (klass));

  g_type_ensure (TPT_TYPE_KEY_BUTTON);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/frames/tpt-name-pad.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "outer", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptNamePad, search);
  gtk_widget_class_bind_template_child (widget_class, TptNamePad, names);
  gtk_widget_class_bind_template_child (widget_class, TptNamePad, none);
  gtk_widget_class_bind_template_child (widget_class, TptNamePad, add);
  gtk_widget_class_bind_template_child (widget_class, TptNamePad, add_text);
  gtk_widget_class_bind_template_child (widget_class, TptNamePad, again);
  gtk_widget_class_bind_template_child (widget_class, TptNamePad, also);
  gtk_widget_class_bind_template_child (widget_class, TptNamePad, take_back);
  gtk_widget_class_bind_template_callback (widget_class, searched_cb);
  gtk_widget_class_bind_template_callback (widget_class, activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, tpt_name_pad_end_search);
  gtk_widget_class_bind_template_callback (widget_class, add_cb);
  gtk_widget_class_bind_template_callback (widget_class, blank_cb);
  gtk_widget_class_bind_template_callback (widget_class, human_cb);
  gtk_widget_class_bind_template_callback (widget_class, vehicle_cb);
  gtk_widget_class_bind_template_callback (widget_class, unknown_cb);
  gtk_widget_class_bind_template_callback (widget_class, again_cb);
  gtk_widget_class_bind_template_callback (widget_class, also_cb);
  gtk_widget_class_bind_template_callback (widget_class, take_back_cb);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_name_pad_init (TptNamePad *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  for (guint i = 0; i < TPT_NAME_PAD_DIGITS; i++)
    {
      const char digit[] = { (char) ('1' + i), '\0' };

      self->buttons[i] = tpt_key_button_new (digit, NULL);
      g_signal_connect_swapped (self->buttons[i], "clicked", G_CALLBACK (name_cb), self);
      gtk_box_append (self->names, GTK_WIDGET (self->buttons[i]));
    }
  tpt_name_pad_set_mine (self, FALSE);
  show_names (self);
}

void
tpt_name_pad_set_names (TptNamePad *self, GPtrArray *names)
{
  if (names == self->ranked)
    return;
  g_clear_pointer (&self->ranked, g_ptr_array_unref);
  self->ranked = names != NULL ? g_ptr_array_ref (names) : NULL;
  search_names (self);
}

GPtrArray *
tpt_name_pad_get_names (TptNamePad *self)
{
  return self->ranked;
}

const char *
tpt_name_pad_get_name (TptNamePad *self, int digit)
{
  guint place = (guint) digit - 1;

  return self->shown != NULL && place < MIN (self->shown->len, TPT_NAME_PAD_DIGITS)
           ? ((const TptName *) self->shown->pdata[place])->species
           : NULL;
}

const char *
tpt_name_pad_find_common (TptNamePad *self, const char *species)
{
  for (guint i = 0; self->ranked != NULL && species != NULL && i < self->ranked->len; i++)
    {
      const TptName *name = self->ranked->pdata[i];

      if (g_str_equal (name->species, species))
        return name->common;
    }
  return NULL;
}

void
tpt_name_pad_set_again (TptNamePad *self, const char *what)
{
  tpt_key_button_set_text (self->again, _("Repeat"), what);
  gtk_widget_set_sensitive (GTK_WIDGET (self->again), what != NULL);
}

void
tpt_name_pad_set_also (TptNamePad *self, gboolean also)
{
  tpt_key_button_set_text (self->also, also ? _("That is all") : _("And also…"), NULL);
  tpt_key_button_set_held (self->also, also);
}

void
tpt_name_pad_set_mine (TptNamePad *self, gboolean mine)
{
  gtk_widget_set_sensitive (GTK_WIDGET (self->take_back), mine);
}

void
tpt_name_pad_search (TptNamePad *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->search));
}

void
tpt_name_pad_end_search (TptNamePad *self)
{
  GtkWidget *text = GTK_WIDGET (gtk_editable_get_delegate (GTK_EDITABLE (self->search)));

  if (get_text (self)[0] != '\0')
    {
      gtk_editable_set_text (GTK_EDITABLE (self->search), "");
      search_names (self);
    }
  if (gtk_widget_has_focus (text))
    g_signal_emit (self, signals[SIGNAL_LEFT], 0);
}
