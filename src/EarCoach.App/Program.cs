using System.CommandLine;
using EarCoach.App.Web;

RootCommand root = new("Hears you practise a passage and says of every attempt whether it was clean.");
PageOptions page = new();
page.AddTo(root);
root.SetAction((parsed, stop) => WebHost.RunAsync(page.Read(parsed), stop));
return await root.Parse(args).InvokeAsync();
